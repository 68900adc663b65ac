"""`advise`: table and sentences, picture, drawing with a layer for each proposal, JSON.

96 .-----------------------------.
   |   73 .---.     .---.  .---.  |     windows A and B 33 to 73, one over a course line;
   |      | A |     | B |  | D |  |     a door of 80
   |   33 '---'     '---'  |   |  |
 0 '-----------------------'---'--'
"""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import ezdxf
import jsonschema
import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.cli import main

LAYERS = ["--wall-layer", "WALL", "--no-plan"]
SCHEMA = json.loads((ROOT / "docs" / "advice.schema.json").read_text("utf-8"))


def run(*words, code=0):
    done = CliRunner().invoke(main, [str(w) for w in words])
    assert done.exit_code == code, done.output
    return done.output


@pytest.fixture
def front(tmp_path):
    one = drawing(
        wall=[(0, 0, 240, 96)],
        window=[(20, 33, 56, 73), (100, 33, 136, 73)],
        door=[(180, 0, 216, 80)],
        texts=[("name", t, at) for t, at in (("A", (30, 50)), ("B", (110, 50)), ("F", (80, 15)))],
    )
    (tmp_path / "job.toml").write_text(
        '[layers]\nwall = "WALL"\nwindow = "WINDOW"\ndoor = "DOOR"\nname = "NAME"\n'
        '[plan]\npanels = false\n[advice]\nmay_move = ["window=2"]\n'
    )
    return write_dxf(one, tmp_path / "front.dxf")


def advised(front, *words, code=0):
    return run("advise", front, "--job", front.with_name("job.toml"), *words, code=code)


def test_each_proposal_is_one_sentence_under_a_table(front):
    output = advised(front)
    assert "starter above base of W1" in output
    assert re.search(r"^now +0\" +0\" +2 +4 +0 +0 +0\.00 sq ft +-$", output, re.MULTILINE)
    assert (
        '1: lower windows A, B by 1", keep the start at 0": no sliver instead of 2, 4 rips fewer'
        in output
    )
    assert "tried all of" in output and "nothing was left out" in output
    assert "a licensed professional decide" in output
    assert sorted(p.name for p in front.parent.iterdir()) == ["front.dxf", "job.toml"]


def test_an_opening_is_named_by_its_text_in_limits_too(front):
    output = advised(front, "--may-move", "B=2")
    assert 'lower window B by 1"' in output and "A, B" not in output.split("note:")[0]


def test_metric_in_and_out(front):
    output = advised(front, "--may-move", "window=25.4 mm", "--display", "metric")
    assert "lower windows" in output and "by 25.4 mm, keep the start at 0 mm" in output
    assert '"' not in output


def test_a_height_that_is_no_multiple_is_told_with_its_numbers(front):
    tall = write_dxf(drawing(wall=[(0, 0, 240, 96)], window=[(20, 20, 56, 80)]), front)
    told = advised(tall)
    assert (
        'W1-O1 is 5\'-0" high, which is no multiple of the course of 8" (4" over): no single '
        "move clears both head and sill" in told
    )


def test_without_limits_it_says_how_to_give_them(front):
    output = run("advise", front, *LAYERS, "--opening-layer", "WINDOW")
    assert "--may-move window=2" in output


# ------------------------------------------------------------------- files


def test_the_json_is_what_its_schema_says(front):
    file = front.with_name("advice.json")
    advised(front, "--json", file)
    data = json.loads(file.read_text("utf-8"))
    jsonschema.Draft202012Validator(SCHEMA).validate(data)
    (group,) = data["groups"]
    assert (group["stands"]["slivers"], group["stands"]["ripped"]) == (2, 4)
    first = group["proposals"][0]
    assert first["moves"] == [
        {"kind": "window", "ids": ["W1-O1", "W1-O2"], "head_in": -1, "sill_in": -1}
    ]
    assert (first["number"], first["start_in"]) == (1, 0)
    assert (first["slivers"], first["panels"]) == (0, None)
    assert first["told_data"]["code"] == "advice-proposal"
    assert group["exhaustive"] is True and data["may_move"] == [{"what": "window", "most_in": 2}]
    wrong = {**data, "groups": [{**group, "exhaustive": "yes"}]}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(wrong)


def test_the_drawing_has_a_layer_for_each_proposal_and_is_else_the_same(front):
    before = front.read_bytes()
    out = front.with_name("out")
    advised(front, "-o", out)
    assert front.read_bytes() == before
    copy = ezdxf.readfile(out / "front-advice.dxf")
    assert copy.audit().errors == []
    own = [e for e in ezdxf.readfile(front).modelspace()]
    kept = [e for e in copy.modelspace() if not e.has_xdata("DXF2VENEER")]
    assert [(e.dxftype(), e.dxf.handle, e.dxf.layer) for e in kept] == [
        (e.dxftype(), e.dxf.handle, e.dxf.layer) for e in own
    ]
    outlines = copy.modelspace().query('LWPOLYLINE[layer=="A-ELEV-VENR-ADV1"]')
    boxes = sorted(
        (min(x for x, *_ in o), min(y for _, y, *_ in o), max(y for _, y, *_ in o))
        for o in (list(o.get_points()) for o in outlines)
    )
    assert boxes == [(20, 32, 72), (100, 32, 72)]  # both windows one lower
    texts = [t.dxf.text for t in copy.modelspace().query('TEXT[layer=="A-ELEV-VENR-ADV1"]')]
    assert any(t.startswith("1 lower windows A, B by 1") for t in texts)
    assert not copy.layers.get("A-ELEV-VENR-ADV1").is_off()
    others = [n.dxf.name for n in copy.layers if re.fullmatch(r".*-ADV[2-9]", n.dxf.name)]
    assert others and all(copy.layers.get(n).is_off() for n in others)


def test_a_drawing_in_millimeters_is_drawn_on_in_millimeters(front, tmp_path):
    one = drawing(wall=[(0, 0, 240, 96)], window=[(20, 33, 56, 73)])
    metric = write_dxf(one, tmp_path / "metric.dxf", units="mm")
    run("advise", metric, "--job", front.with_name("job.toml"), "-o", tmp_path / "out")
    space = ezdxf.readfile(tmp_path / "out" / "metric-advice.dxf").modelspace()
    (outline,) = space.query('LWPOLYLINE[layer=="A-ELEV-VENR-ADV1"]')
    corners = [(x, y) for x, y, *_ in outline.get_points()]
    assert (min(corners), max(corners)) == (
        pytest.approx((508.0, 812.8)),  # 20 and 32 in
        pytest.approx((1422.4, 1828.8)),  # 56 and 72 in
    )


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_every_version_of_dxf_takes_the_layers(front, version):
    out = front.with_name("out")
    advised(front, "-o", out, "--dxf-version", version)
    copy = ezdxf.readfile(out / "front-advice.dxf")
    assert copy.acad_release == version and copy.audit().errors == []
    kind = "POLYLINE" if version == "R12" else "LWPOLYLINE"
    assert len(copy.modelspace().query(f'{kind}[layer=="A-ELEV-VENR-ADV1"]')) == 2


def test_a_takeoff_of_the_copy_takes_no_notice_of_the_layers(front):
    out = front.with_name("out")
    advised(front, "-o", out)
    job = front.with_name("job.toml")
    for drawing_, name in ((front, "a.json"), (out / "front-advice.dxf", "b.json")):
        run("takeoff", drawing_, "--job", job, "-o", front.with_name("t"), "--json",
            front.with_name(name), "-q")  # fmt: skip
    a, b = (json.loads(front.with_name(n).read_text("utf-8")) for n in ("a.json", "b.json"))
    assert a["totals"] == b["totals"] and a["starts"] == b["starts"]


def test_the_picture_shows_what_stands_and_each_proposal(front):
    out = front.with_name("out")
    output = advised(front, "-o", out)
    root = ElementTree.parse(out / "front-advice.svg").getroot()
    space = "{http://www.w3.org/2000/svg}"
    kinds = [e.get("class") for e in root.iter() if e.get("class")]
    listed = len(re.findall(r"^\d: ", output, re.MULTILINE))
    assert kinds.count("outline") == 1 + listed
    assert kinds.count("sliver") >= 2 + 1  # as it stands, and the key
    assert "moved" in kinds and "drawn" in kinds
    words = " ".join(e.text for e in root.iter(f"{space}text"))
    assert "as it stands, 2 slivers, 4 rips" in words and "1 Lower windows" in words


def test_two_runs_write_the_same_bytes(front):
    made = []
    for name in ("one", "two"):
        out = front.with_name(name)
        advised(front, "-o", out, "--json", out / "a.json")
        made.append({p.name: p.read_bytes() for p in sorted(out.iterdir())})
    assert made[0] == made[1] and len(made[0]) == 3


def test_hostile_names_stay_text(front):
    one = drawing(
        wall=[(0, 0, 240, 96)],
        window=[(20, 33, 56, 73)],
        texts=[("name", "</text><script>x</script>%%u", (30, 50))],
    )
    write_dxf(one, front)
    out = front.with_name("out")
    advised(front, "-o", out, "--json", out / "a.json")
    text = (out / "front-advice.svg").read_text("utf-8")
    assert "<script>" not in text
    ElementTree.fromstring(text)
    assert ezdxf.readfile(out / "front-advice.dxf").audit().errors == []


# ------------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--may-move", "window"], "wants WHAT=LENGTH"),
        (["--may-move", "window=far"], "--may-move"),
        (["--may-move", "window=49"], "--may-move"),
        (["--may-move", "window=1", "--may-move", "WINDOW=2"], "--may-move"),
        (["--may-move", "windoe=2"], "did you mean window?"),
        (["--may-resize", "W1-O9=2"], "is no kind and no opening"),
        (["--proposals", "0"], "--proposals"),
    ],
)
def test_wrong_limits_are_one_line_and_2(front, words, told):
    output = advised(front, *words, code=2)
    assert told in output and "Traceback" not in output


def test_an_unusable_drawing_is_1_and_nothing_is_written(front):
    front.write_text("no drawing")
    out = front.with_name("out")
    advised(front, "-o", out, code=1)
    assert not out.exists() or not list(out.iterdir())


def test_an_output_never_takes_the_place_of_an_input_or_of_what_is_not_ours(front):
    advised(front, "--json", front, code=2)
    (front.with_name("out")).mkdir()
    theirs = front.with_name("out") / "front-advice.svg"
    theirs.write_text("mine")
    advised(front, "-o", front.with_name("out"), code=2)
    assert theirs.read_text() == "mine"
    advised(front, "-o", front.with_name("out"), "--force")
    assert theirs.read_text() != "mine"


def test_a_file_in_the_place_of_the_folder_is_wrong_use(front, tmp_path):
    (tmp_path / "out").write_text("mine")
    output = advised(front, "-o", tmp_path / "out", code=2)
    assert "out" in output and "-o" in output
    assert (tmp_path / "out").read_text() == "mine"


def test_a_size_that_may_change_where_nothing_may_move_is_told(front):
    output = run("advise", front, *LAYERS, "--may-resize", "window=4")
    assert "--may-resize alone changes nothing" in output
