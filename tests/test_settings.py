"""Job files and options: what is read, what wins, and what a wrong line is told."""

import re
import tomllib

import pytest
from refusals import refused

from dxf2veneer.config.charges import KINDS
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import SECTIONS, load_job, new_job_text, with_settings
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.settings import described
from dxf2veneer.wording import error_line


@pytest.fixture
def job_file(tmp_path):
    def write(text):
        path = tmp_path / "job.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_without_a_file_every_setting_stands_at_its_default():
    job = load_job()
    for section, owner in SECTIONS.items():
        for name, _, default in described(owner):
            assert getattr(getattr(job, section), name) == default
            assert job.origin_of(f"{section}.{name}") == Origin("default")


def test_a_file_is_read_with_lengths_as_people_write_them(job_file):
    path = job_file('[layers]\nwall = "A-WALL"\n\n[trim]\nhead = "203.2 mm"\njambs = "4 1/2"\n')
    job = load_job(path)
    assert job.layers.wall == ("A-WALL",)
    assert (job.trim.head, job.trim.jambs) == (8, 4.5)
    assert job.origin_of("trim.jambs") == Origin("file", path, 6, "trim.jambs")


def test_options_win_over_the_file(job_file):
    job = load_job(job_file("[trim]\nhead = 8\nsill = 3\n"), {"trim.head": "4", "trim.sill": None})
    assert (job.trim.head, job.trim.sill) == (4, 3)
    assert job.origin_of("trim.head") == Origin("option", key="trim.head", option="trim-head")


def test_the_start_is_a_length_or_the_best_that_can_be_found(job_file):
    asked = load_job(job_file("[courses]\nstart = 'best'\nclearance = 4\n")).courses
    assert (asked.start, asked.shift, asked.highest) == ("best", 0, 6)
    assert load_job(None, {"courses.start": "best"}).courses.start == "best"
    given = load_job(None, {"courses.start": "-1 1/2", "courses.clearance_most": "100 mm"}).courses
    assert (given.start, given.shift, given.highest) == (-1.5, -1.5, 100 / 25.4)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[layers]\nwals = 'X'\n", r"line 2: layers\.wals is not a setting; did you mean wall\?"),
        (
            "[leyers]\nwall = 'X'\n",
            r"line 1: there is no section \[leyers\]; did you mean layers\?",
        ),
        (
            "[trim]\n\nclearance = 4\n",
            r"line 3: trim\.clearance is not a setting; it belongs under \[courses\]",
        ),
        ("[trim]\nhead = true\n", r"line 2: trim\.head = true: .*; for example 8"),
        ("[trim]\nhead = -1\n", r"line 2: trim\.head = -1: wants a length from 0. to 4'-0."),
        ("[trim]\nhead = '8 cubits'\n", r"line 2: trim\.head = .8 cubits.: .* is not a length"),
        ("[trim]\nhead = inf\n", r"line 2: trim\.head = inf: inf is not a finite length"),
        ("[trim]\nhead = [8]\n", r"line 2: trim\.head = \[8\]: wants a length"),
        (
            "[courses]\nstart = 'worst'\n",
            r"line 2: courses\.start = .worst.: .* is not a length; .*, or the word best",
        ),
        (
            "[courses]\nstart = 97\n",
            r"line 2: courses\.start = 97: wants a length from -8'-0. to 8'-0., or the word best",
        ),
        (
            "[courses]\nclearance = 4\nclearance_most = 3\n",
            r"line 3: courses\.clearance_most = 3 is less than courses\.clearance = 4",
        ),
        (
            "[drawing]\nunits = 'cubit'\n",
            r"line 2: drawing\.units = .cubit.: .* not a unit of length",
        ),
        ("[drawing]\nscale = 0\n", r"line 2: drawing\.scale = 0: wants a value from"),
        ("[drawing]\nscale = 'big'\n", r"line 2: drawing\.scale = .big.: wants a number"),
        (
            "[output]\ndisplay = 'both'\n",
            r"line 2: output\.display = .both.: wants one of imperial, metric",
        ),
        (
            "[output]\nlayer_prefix = 'A B'\n",
            r"line 2: output\.layer_prefix = .A B.: wants letters",
        ),
        (
            "[output]\nplot_scale = 'large'\n",
            r"line 2: output\.plot_scale = .large.: 'large' is not a plotting scale; write it "
            r"like 48",
        ),
        (
            "[output]\nplot_scale = 0.5\n",
            r"line 2: output\.plot_scale = 0\.5: wants a value from 1 to 2000",
        ),
        (
            "[output]\ndxf_version = 'R14'\n",
            r"line 2: output\.dxf_version = .R14.: wants one of R12, R2000",
        ),
        ("[output]\noverlay_only = 1\n", r"line 2: output\.overlay_only = 1: wants true or false"),
        ("[layers]\nwall = [3]\n", r"line 2: layers\.wall = \[3\]: wants a list of names"),
        (
            "[bid]\nlines = [{ name = 'Tax', percent = 'ten' }]\n",
            r"line 2: bid.lines = \[\{ name = .Tax., percent = .ten. \}\]: percent of table "
            r"1 wants a number",
        ),
        (
            "[bid]\nlines = [\n{ name = 'Tax', percent = 6 },\n{ name = 'Margin', percent = 8 }]\n",
            r"line 4: bid.lines = .Margin.: 8 per cent of costs is a markup; for 8 per cent of the "
            r"price write margin = 8",
        ),
        (
            "[bid]\nlines = [{ name = 'Markup', margin = 8 }]\n",
            r"line 2: bid.lines = .Markup.: 8 per cent of the price is a margin",
        ),
        (
            "[bid]\nlines = [{ name = 'Tax', percent = 6, amount = 10 }]\n",
            r"line 2: bid.lines = .Tax.: wants one of amount, rate, percent and margin",
        ),
        (
            "[bid]\nlines = [{ name = 'Freight', rate = 95 }]\n",
            r"line 2: bid.lines = .Freight.: wants rate and per together; per is one of pallets,",
        ),
        (
            "[bid]\nlines = [{ name = 'Profit', margin = 8, of = ['materials'] }]\n",
            r"line 2: bid.lines = .Profit.: a margin is per cent of the whole price",
        ),
        (
            "[bid]\nlines = [{ name = 'Profit', margin = 8, below = 900 }]\n",
            r"line 2: bid.lines = .Profit.: a margin is per cent of the whole price and takes no "
            r"of, no least and no below",
        ),
        (
            "[bid]\nlines = [\n{ name = 'Tax', kind = 'tax', percent = 6, of = ['materials', "
            "'freight'] },\n{ name = 'Truck', kind = 'freight', amount = 9 }]\n",
            r"line 3: bid.lines = .Tax.: no line above it is of kind freight; .* put that line",
        ),
        (
            "[bid]\nlines = [{ name = 'Crane', amount = 8, of = ['materials'] }]\n",
            r"line 2: bid.lines = .Crane.: of goes with percent, or with below",
        ),
        (
            "[bid]\nlines = [{ name = 'A', margin = 60 }, { name = 'B', margin = 40 }]\n",
            r"line 2: bid.lines = .A.: margins that stand together take the whole price or more",
        ),
        (
            "[bid]\nlines = [{ name = ' ', amount = 8 }]\n",
            r"line 2: .*: name of table 1 wants a text that is not blank",
        ),
        (
            "[labour]\ntasks = [{ name = 'Wash' }]\n",
            r"line 2: labour.tasks = .Wash.: wants one of measure and quantity",
        ),
        (
            "[labour]\ntasks = [{ name = 'Lift', quantity = 2 }]\n",
            r"line 2: labour.tasks = .Lift.: wants a unit beside a quantity, .*, ft, m2, m, each",
        ),
        (
            "[labour]\ntasks = [{ name = 'Wash', measure = 'net_aera' }]\n",
            r"line 2: .*did you mean net_area",
        ),
        ("[job]\nname = 3\n", r"line 2: job\.name = 3: wants text in quotes"),
        ("scale = 2\n[drawing]\n", r"line 1: scale stands outside every \[section\]"),
        ("[drawing]\nscale = \n", r"not valid TOML: .*line 2"),
    ],
)
def test_a_wrong_line_is_named_with_what_would_be_right(job_file, text, told):
    with refused(SettingsError, match=told) as caught:
        load_job(job_file(text))
    assert "\n" not in error_line(caught.value)


def test_a_wrong_text_in_a_list_is_told_with_its_own_line_and_the_nearest_word(job_file):
    """The second of three outlines, on line 4."""
    outline = "=10,10 20,10 20,20 10,20"
    texts = [f"window{outline}", f"windwo{outline}", f"door{outline}"]
    rows = "\n".join(f'    "{text}",' for text in texts)
    path = job_file(f"[drawing]\nopening_outline = [\n{rows}\n]\n")
    with refused(SettingsError, match="line 4") as caught:
        load_job(path)
    told = error_line(caught.value)
    assert "did you mean window?" in told
    assert texts[0] not in told
    assert texts[2] not in told.split("; for example")[0]


def test_a_missing_file_and_binary_content_are_told_in_one_line(tmp_path):
    with refused(SettingsError, match=r"none\.toml: there is no such file"):
        load_job(tmp_path / "none.toml")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00[")
    with refused(SettingsError, match=r"bytes\.toml: can't be read as UTF-8 text"):
        load_job(tmp_path / "bytes.toml")


def test_a_wrong_option_is_named():
    with refused(SettingsError, match=r"--trim-head = .wide.: .* not a length"):
        load_job(None, {"trim.head": "wide"})
    with refused(SettingsError, match=r"trim\.top is not a setting"):
        load_job(None, {"trim.top": 3})
    with refused(SettingsError, match=r"top\.head is not a setting"):
        load_job(None, {"top.head": 3})


def test_the_template_is_a_job_at_its_defaults(job_file):
    assert load_job(job_file(new_job_text())) == load_job()


def test_every_line_of_the_template_holds_when_uncommented(job_file):
    lines = new_job_text().splitlines()
    active = "\n".join(line[2:] if re.match(r"# \w+ = ", line) else line for line in lines)
    read = tomllib.loads(active)
    job = load_job(job_file(active))
    assert set(read) == set(SECTIONS)
    assert {f"{s}.{k}" for s, body in read.items() for k in body} == set(job.items())


def test_the_product_is_found_from_the_job_files_folder(job_file):
    path = job_file("[product]\nfile = 'panel.toml'\n")
    assert load_job(path).product_path == path.parent / "panel.toml"
    assert load_job(None, {"product.file": "panel.toml"}).product_path is not None
    assert load_job().product_path is None


def test_settings_can_be_changed_from_python():
    job = with_settings(load_job(), trim__head=8.0, layers__wall=("W",))
    assert (job.trim.head, job.layers.wall) == (8.0, ("W",))
    assert load_job().trim.head == 0.0


def test_every_option_is_named_once():
    options = [
        about.option
        for owner in SECTIONS.values()
        for _, about, _ in described(owner)
        if about.option
    ]
    assert len(options) == len(set(options))


def test_no_kind_of_cost_is_a_part_of_anothers_name():
    # the workbook finds a kind in a list of kinds by its letters
    assert not [(a, b) for a in KINDS for b in KINDS if a != b and a in b]
