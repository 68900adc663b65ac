"""The page in a real browser: what a person does with mouse, fingers and keys."""

from __future__ import annotations

import http.server
import shutil
import threading
from contextlib import contextmanager
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner
from fronts import draw_front, rectangle, served

from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.page.session import Session

SAMPLES = Path(__file__).parent.parent.parent / "samples"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.fixture(scope="module")
def browser():
    """One Chromium of this machine for all tests here; nothing is downloaded."""
    playwright = pytest.importorskip(
        "playwright.sync_api", reason="playwright, which drives the browser, is not installed"
    )
    if CHROMIUM is None:
        pytest.skip("there is no Chromium on this machine")
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"]
        )
        yield opened
        opened.close()


class Hand:
    """A person before the page: points at places in the drawing's own coordinates."""

    def __init__(self, page, session):
        self.page, self.session = page, session
        self.said = []
        self.asked = []
        page.on("console", lambda m: self.said.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda e: self.said.append(str(e)))
        page.on("request", lambda r: self.asked.append(r.url))

    def open(self, address):
        self.page.goto(address)
        self.page.wait_for_selector("#glass[data-ready]")
        return self

    def place(self, x, y):
        """A place of the drawing on the screen, worked out from the frame of the first view."""
        # the picture is drawn anew now and then, has no frame for that moment, and another one
        # where the room round it has changed
        frame, before = None, ()
        while not frame or frame != before:
            before = frame
            self.page.wait_for_timeout(20)
            frame = self.page.locator(".view-box").first.bounding_box()
        # the stroke of the frame is one pixel wide, half of it outside
        x0, y0, x1, y1 = self.session.state()["views"][0]["box"]
        wide, high = frame["width"] - 1, frame["height"] - 1
        return (
            frame["x"] + 0.5 + (x - x0) / (x1 - x0) * wide,
            frame["y"] + 0.5 + (y1 - y) / (y1 - y0) * high,
        )

    def click(self, x, y):
        """One click on the drawing, and what it does waited for."""
        before = self.session.state()["revision"]
        self.page.mouse.click(*self.place(x, y))
        return self.settled(before)

    def settled(self, before):
        """Waits until a step has been made, where it makes one, and its numbers are shown."""
        for _ in range(25):
            if self.session.state()["revision"] != before:
                break
            self.page.wait_for_timeout(20)
        sums = self.page.locator("#sums")
        for _ in range(500):
            if sums.get_attribute("data-revision") == str(self.session.state()["revision"]):
                return self
            self.page.wait_for_timeout(20)
        raise AssertionError("the page does not show the numbers of the last step")

    def until(self, holds):
        """Waits until something holds, as long as a busy machine may take."""
        for _ in range(500):
            if holds():
                return self
            self.page.wait_for_timeout(20)
        raise AssertionError("it did not come to hold")

    def sees(self, place, text):
        """Waits until a part of the page shows a text."""
        self.page.locator(place, has_text=text).wait_for(state="attached")
        return self

    def choose(self, label):
        self.page.locator("#pointer").get_by_label(label, exact=True).check()
        return self

    def press(self, *keys):
        for key in keys:
            self.page.keyboard.press(key)
        return self

    def figure(self, name):
        """A number of the sums."""
        row = self.page.locator("#sums dt", has_text=name)
        return row.locator("xpath=following-sibling::dd[1]").inner_text()

    def kinds(self):
        return [m["kind"] for m in self.session.state()["marks"]]


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


@pytest.fixture
def at_the_page(browser):
    """Opens a session's page in a window of its own."""

    @contextmanager
    def opened(session, **window):
        context = browser.new_context(
            **{"viewport": {"width": 1280, "height": 720}, "color_scheme": "light", **window}
        )
        try:
            with served(session) as address:
                yield Hand(context.new_page(), session).open(address)
        finally:
            context.close()

    return opened


@pytest.fixture
def session(front):
    return Session(front, front.with_name("front-proposed.toml"))


def test_the_drawing_is_shown_while_the_command_still_looks_for_walls(front, at_the_page):
    session = Session(front, front.with_name("front-proposed.toml"), looks=False)
    with at_the_page(session) as hand:
        hand.sees("#looking", "Looking for views, walls and openings")
        hand.page.wait_for_selector("#glass[data-drawn]")
        assert hand.page.locator(".mark").count() == 0
        hand.page.locator("#glass").click()  # the middle of the door
        hand.sees("#readout", "still being looked at")
        assert session.look() == ""
        hand.sees("#said", "1 elevation, 1 wall, 2 openings")
        hand.page.wait_for_selector("#looking", state="hidden")
        hand.sees("#sums", "186.00 sq ft")
        assert hand.page.locator(".mark").count() == 3
        hand.choose("vent").click(206, 66)
        assert hand.figure("Net") == "185.00 sq ft"


def test_a_missing_opening_takes_one_click_and_the_numbers_follow(session, at_the_page):
    with at_the_page(session) as hand:
        assert hand.figure("Net") == "186.00 sq ft"
        hand.choose("vent").click(206, 66)
        assert hand.figure("Net") == "185.00 sq ft"
        assert hand.kinds() == ["wall", "window", "door", "vent"]
        assert hand.page.locator("#kept").inner_text() == "Saved in front-proposed.toml"
        assert hand.said == []
    assert [o.name for o in load_job(session.job_path).drawing.opening_outline][-1] == "vent"


def test_a_wrong_opening_takes_one_click(session, at_the_page):
    with at_the_page(session) as hand:
        hand.page.get_by_role("button", name="Take out O1").click()
        hand.settled(1)
        assert hand.figure("Net") == "195.00 sq ft"


def test_everything_can_be_undone_and_made_again(session, at_the_page):
    with at_the_page(session) as hand:
        first = session.state()["marks"]
        hand.choose("vent").click(206, 66)
        hand.choose("nothing").click(42, 54)
        hand.choose("two corners").choose("window").click(150, 40).click(180, 80)
        assert hand.kinds() == ["wall", "door", "vent", "window"]
        last = session.state()["marks"]
        for _ in range(3):
            hand.page.get_by_role("button", name="Undo").click()
            hand.page.wait_for_timeout(100)
        assert session.state()["marks"] == first
        assert hand.page.get_by_role("button", name="Undo").is_disabled()
        hand.page.locator("#sheet").click(position={"x": 5, "y": 5}, trial=True)
        hand.press("Control+Shift+z", "Control+Shift+z", "Control+Shift+z")
        hand.page.wait_for_selector("#redo:disabled")
        assert session.state()["marks"] == last


def test_a_wall_is_drawn_by_corners_that_snap(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("every corner").choose("wall")
        # a few inches off; each corner snaps to the end there, and the last click closes
        for at in [(24.6, 36.4), (59.5, 35.6), (59.4, 72.5), (24.5, 36.3)]:
            hand.click(*at)
        outline = session.state()["marks"][-1]["outline"]
        assert sorted(outline) == [[24, 36], [60, 36], [60, 72]]


def test_a_wrong_unit_is_mended_by_two_points_and_a_length(front, at_the_page):
    session = Session(front, front.with_name("j.toml"), options={"drawing.units": "mm"})
    with at_the_page(session) as hand:
        hand.choose("a known length").click(96, 0.4).click(132, 0.4)
        hand.page.get_by_label("The length between the two ends is").fill("3'-0\"")
        hand.press("Enter").until(session.job_path.exists)
        hand.sees("#sums", "216")
        assert hand.figure("Net") == "186.00 sq ft"
    assert load_job(session.job_path).drawing.units == "in"


def test_a_reload_in_the_middle_loses_nothing(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("vent").click(206, 66)
        hand.page.reload()
        hand.page.wait_for_selector("#glass[data-ready]")
        assert hand.figure("Net") == "185.00 sq ft"
        hand.page.get_by_role("button", name="Undo").click()
        hand.sees("#sums", "186.00")


def test_keys_alone_point_name_and_confirm(session, at_the_page):
    with at_the_page(session) as hand:
        # to the kinds by Tab, to the vent by arrows
        def tab_to(selector):
            for _ in range(60):
                hand.press("Tab")
                if hand.page.evaluate("s => document.activeElement.matches(s)", selector):
                    return
            raise AssertionError(f"no way by Tab to {selector}")

        tab_to("input[name=kind]")
        hand.press(*["ArrowRight"] * 7)
        assert hand.page.locator("input[name=kind]:checked").get_attribute("value") == "fixture"
        hand.press("ArrowLeft")
        while not hand.page.evaluate("document.activeElement.matches('#glass')"):
            hand.press("Shift+Tab")
        glass = hand.page.locator("#glass").bounding_box()
        x, y = hand.place(206, 66)
        dx, dy = x - glass["x"] - glass["width"] / 2, y - glass["y"] - glass["height"] / 2
        hand.press(*["ArrowRight" if dx > 0 else "ArrowLeft"] * round(abs(dx) // 24))
        hand.press(*["Shift+ArrowRight" if dx > 0 else "Shift+ArrowLeft"] * round(abs(dx) % 24 / 2))
        hand.press(*["ArrowDown" if dy > 0 else "ArrowUp"] * round(abs(dy) // 24))
        hand.press(*["Shift+ArrowDown" if dy > 0 else "Shift+ArrowUp"] * round(abs(dy) % 24 / 2))
        hand.press("Enter").until(lambda: hand.kinds()[-1] == "vent").settled(1)
        tab_to("input.name")
        hand.page.keyboard.type("North")
        tab_to("[data-key='kind-2']")
        hand.until(lambda: session.state()["marks"][0]["name"] == "North")
        while not hand.page.evaluate("document.activeElement.matches('[data-key=look-V1]')"):
            hand.press("Shift+Tab")
        hand.press("Space")
        hand.sees("#sums", "Confirmed: you have looked")
    assert load_job(session.job_path).proposal.confirmed


def test_a_screen_reader_hears_what_happened_and_every_control_has_a_name(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("vent").click(206, 66)
        hand.sees("#said", "net")
        assert (
            hand.page.locator("#said").inner_text() == "vent 1'-0\" x 1'-0\" made; net 185.00 sq ft"
        )
        nameless = hand.page.evaluate(
            """() => [...document.querySelectorAll('button, select, input, textarea')].filter((e) =>
                !(e.getAttribute('aria-label') || e.textContent.trim() || e.labels?.length))
                .map((e) => e.outerHTML)"""
        )
        assert nameless == []


def test_fingers_see_the_outline_first_and_make_it_by_the_second_tap(session, at_the_page):
    tablet = {"viewport": {"width": 810, "height": 1080}, "has_touch": True}
    with at_the_page(session, **tablet) as hand:
        hand.page.touchscreen.tap(*hand.place(206, 66))
        hand.page.wait_for_selector(".under")
        assert len(hand.kinds()) == 3
        hand.page.touchscreen.tap(*hand.place(206, 66))
        hand.settled(1)
        assert hand.kinds()[-1] == "window"


def test_the_larger_outline_is_a_key_or_a_button_away(session, at_the_page):
    with at_the_page(session) as hand:
        hand.page.mouse.move(*hand.place(42, 54))
        hand.page.wait_for_selector(".under")
        readout = hand.page.locator("#readout")
        assert readout.inner_text().startswith("2'-8\" x 2'-8\", outline 1 of 3")
        hand.page.locator("#glass").focus()
        hand.press("PageUp")
        assert readout.inner_text().startswith("3'-0\" x 3'-0\", outline 2 of 3")
        hand.page.mouse.wheel(0, 0)
        hand.press("PageDown")
        assert "outline 1 of 3" in readout.inner_text()


def test_a_drawing_that_changes_is_read_again_and_drawn(session, at_the_page, tmp_path):
    with at_the_page(session) as hand:
        hand.choose("vent").click(206, 66)
        changed = ezdxf.readfile(session.drawing)
        msp = changed.modelspace()
        for line in [e for e in msp.query("LINE") if e.dxf.start.x in (200, 212)]:
            msp.delete_entity(line)
        rectangle(msp, 230, 60, 242, 72, "ELEV")
        changed.saveas(tmp_path / "new.dxf")
        shutil.copy(tmp_path / "new.dxf", session.drawing)
        hand.page.wait_for_selector("text=No longer fits the drawing", timeout=9000)
        assert hand.kinds()[-1] == "vent"


def test_a_file_changed_by_another_hand_is_told_and_settled_on_the_page(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("vent").click(206, 66)
        session.job_path.write_text(session.job_path.read_text() + '\n[job]\nname = "theirs"\n')
        hand.choose("nothing").click(42, 54)
        hand.page.get_by_role("button", name="Keep my clicks").click()
        hand.page.wait_for_selector("#trouble", state="hidden")
    job = load_job(session.job_path)
    assert (job.job.name, len(job.drawing.opening_outline)) == ("theirs", 2)


HOSTILE = '<img src=x onerror="document.title=1">"><script>alert(1)</script>'


def test_a_hostile_drawing_is_only_text(tmp_path, at_the_page):
    path = draw_front(tmp_path / "hostile.dxf")
    document = ezdxf.readfile(path)
    for text in document.modelspace().query("TEXT"):
        text.dxf.text = f"FRONT ELEVATION {HOSTILE}"
    document.saveas(path)
    # a layer's name that the library would not write
    path.write_text(path.read_text().replace("\nELEV\n", "\n<b>bold<b>&amp;\n"))
    session = Session(path, tmp_path / "job.toml")
    with at_the_page(session) as hand:
        hand.page.get_by_role("button", name="Layers").click()
        assert "<b>bold<b>&amp;" in hand.page.locator("#layer-list").inner_text()
        hand.page.get_by_label("Name of W1").fill(HOSTILE)
        hand.press("Tab").settled(1)
        assert hand.page.locator("img").count() == 0
        assert hand.page.title() == "hostile.dxf: walls and openings"
        assert hand.said == []
        assert {url.split("/")[2] for url in hand.asked} == {hand.page.url.split("/")[2]}
    assert HOSTILE.split("<")[0] in load_job(session.job_path).drawing.wall_outline[0].name


@contextmanager
def strangers_page(html):
    """A page of another origin on this machine."""

    class Handler(http.server.BaseHTTPRequestHandler):
        def do_GET(self):  # the library's name
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(html.encode())

        def log_message(self, *args):
            """Nothing."""

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def test_a_page_of_another_origin_can_neither_read_nor_change_nor_frame(session, browser):
    with served(session) as address:
        script = f"""<iframe id=f src="{address}"></iframe><script>
            const asks = [
              fetch("{address}state").then((r) => r.text()),
              fetch("{address}state", {{mode: "no-cors"}}).then((r) => r.text()),
              fetch("{address}edit", {{method: "POST", mode: "no-cors",
                body: '{{"do":"look","view":"V1","seen":true}}'}}).then((r) => r.text()),
            ];
            Promise.allSettled(asks).then((found) => {{
              window.found = found.map((f) => f.status + ":" + (f.value || ""));
            }});
            </script>"""
        with strangers_page(script) as stranger:
            page = browser.new_page()
            page.goto(stranger)
            page.wait_for_function("window.found")
            found = page.evaluate("window.found")
            frames = [f for f in page.frames if f.url.startswith(address)]
            assert all("front.dxf" not in text for text in found)
            assert all(f.locator("#glass").count() == 0 for f in frames)
            page.close()
        assert not session.state()["confirmed"]
        assert not session.job_path.exists()


def draw_sheet(path):
    """Four fronts with titles on one sheet, widths 20, 24, 28, 32 ft, each 9 ft high."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 1
    msp = document.modelspace()
    for i, side in enumerate(("NORTH", "EAST", "SOUTH", "WEST")):
        x, y, wide = (i % 2) * 700, (i // 2) * 400, 240 + 48 * i
        rectangle(msp, x, y, x + wide, y + 108)
        msp.add_line((x - 40, y), (x + wide + 40, y))
        rectangle(msp, x + 24, y + 36, x + 60, y + 72)
        rectangle(msp, x + 26, y + 38, x + 58, y + 70)
        rectangle(msp, x + 96, y, x + 132, y + 84)
        rectangle(msp, x + 98, y, x + 130, y + 82)
        msp.add_text(f"{side} ELEVATION", height=8).set_placement((x + 60, y - 40))
    document.saveas(path)
    return path


def test_a_sheet_with_four_elevations_is_confirmed_one_by_one(tmp_path, at_the_page):
    session = Session(draw_sheet(tmp_path / "sheet.dxf"), tmp_path / "sheet.toml")
    with at_the_page(session) as hand:
        # (20 + 24 + 28 + 32) x 9 ft = 936 sq ft, less four windows of 9 and doors of 21
        assert hand.figure("Walls, gross") == "936.00 sq ft"
        assert hand.figure("Net") == "816.00 sq ft"
        boxes = hand.page.get_by_label("I have looked at this elevation")
        assert boxes.count() == 4
        for i in range(4):
            assert not session.state()["confirmed"]
            boxes.nth(i).check()
            hand.page.wait_for_timeout(150)
        assert session.state()["confirmed"]
    job = load_job(session.job_path)
    assert job.proposal.confirmed
    assert len(job.proposal.looked_at) == 4


def test_the_woodshed_comes_to_its_published_numbers_by_clicks_alone(
    real_drawings, tmp_path, at_the_page
):
    """Published beside the drawing: gross 186.8425, net 146.0232 sq ft."""
    drawing = tmp_path / "woodshed.dxf"
    shutil.copy(real_drawings / "woodshed-front.dxf", drawing)
    session = Session(drawing, tmp_path / "woodshed.toml")
    session.get_ready()
    with at_the_page(session) as hand:
        # everything that was proposed taken out, to begin with the bare drawing
        while session.state()["marks"]:
            before = session.state()["revision"]
            hand.page.locator("[data-key^=out-]").first.click()
            hand.settled(before)
        hand.choose("two corners").choose("wall")
        hand.click(1100, 2280).click(7335, 5064)
        hand.choose("an outline").choose("what fits")
        for at in [(2500, 3700), (4200, 3300), (5900, 3700)]:
            hand.click(*at)
        assert hand.kinds() == ["wall", "window", "door", "window"]
        totals = session.figures()["totals"]
        assert totals["gross_sqft"] == pytest.approx(186.8425, abs=5e-5)
        assert totals["net_sqft"] == pytest.approx(146.0232, abs=5e-5)


def test_a_page_to_mail_shows_everything_runs_alone_and_gives_the_job_file(front, browser):
    page_file, job_file = front.with_name("look.html"), front.with_name("front.toml")
    told = CliRunner().invoke(main, ["propose", str(front), "--page", str(page_file)])
    assert told.exit_code == 0, told.output
    asked, said = [], []
    page = browser.new_page(viewport={"width": 1280, "height": 720})
    page.on("request", lambda r: asked.append(r.url))
    page.on("pageerror", lambda e: said.append(str(e)))
    page.on("console", lambda m: said.append(m.text))
    page.goto(page_file.as_uri())
    page.wait_for_selector("#glass[data-drawn]")
    assert "186.00 sq ft" in page.locator("#sums").inner_text()
    assert page.locator(".mark").count() == 3
    assert page.get_by_role("button", name="Take out O1").count() == 0
    job_file.write_text(page.locator("#job-text textarea").input_value())
    page.close()
    assert [o.name for o in load_job(job_file).drawing.opening_outline] == ["window", "door"]
    assert (asked, said) == ([page_file.as_uri()], [])


def test_a_takeoff_is_made_on_the_page_with_links_to_what_it_wrote(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("vent").click(206, 66)
        hand.page.get_by_role("button", name="Take off").click()
        hand.sees("#taken", "Flat panels")
        with hand.page.expect_popup() as popup:
            hand.page.get_by_role("link", name="Report").click()
        report = popup.value
        report.wait_for_load_state()
        assert "proposed, not confirmed" in report.inner_text("body")
        # the report's scripts have no origin: they can't ask this page anything
        assert report.evaluate("window.origin") == "null"
        with hand.page.expect_download() as download:
            hand.page.get_by_role("link", name="Workbook").click()
        assert download.value.suggested_filename == "front-takeoff.xlsx"
        hand.choose("nothing").click(42, 54)
        hand.sees("#taken", "Marks have changed since")
    folder = session.drawing.with_name("front-takeoff")
    names = {p.name for p in folder.iterdir()}
    assert names - {"front-cuts.xlsx"} == {"front-takeoff.xlsx", "front-courses.dxf", "front.html"}


def test_a_corner_is_marked_by_a_click_at_the_edge_and_tagged_in_the_list(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("an edge").click(287, 95)
        hand.page.get_by_label("Tag of the outside corner").fill("b")
        hand.press("Tab").settled(2)
        hand.sees("#sums", "Outside corners: 1")
        assert hand.page.locator(".edge-outside").count() == 1
    (line,) = load_job(session.job_path).drawing.mark_line
    assert (line.kind, line.tag, line.points) == ("outside", "B", ((288, 0), (288, 108)))


def test_a_line_takes_the_end_of_a_wall_by_one_click_with_shift(session, at_the_page):
    with at_the_page(session) as hand:
        hand.page.keyboard.down("Shift")
        hand.click(96.4, 40)  # the left jamb of the door: 96 x 108 and 192 x 108 are two walls
        hand.page.keyboard.up("Shift")
        assert hand.figure("Walls, gross") == "216.00 sq ft"
        assert hand.kinds().count("wall") == 2
        hand.page.get_by_role("button", name="Undo").click()
        hand.settled(2)
        assert hand.kinds().count("wall") == 1


def test_a_dragged_box_crops_the_view_and_the_command_reads_no_more(session, at_the_page):
    with at_the_page(session) as hand:
        hand.choose("two corners").choose("all that is read of a view")
        x0, y0 = hand.place(-30, -20)
        x1, y1 = hand.place(310, 120)
        hand.page.mouse.move(x0, y0)
        hand.page.mouse.down()
        hand.page.mouse.move((x0 + x1) / 2, (y0 + y1) / 2)
        hand.page.mouse.move(x1, y1)
        hand.page.mouse.up()
        hand.settled(1)
        assert hand.page.locator(".crop").count() == 1
        assert hand.figure("Net") == "186.00 sq ft"
        ((_, (left, *_)),) = load_job(session.job_path).drawing.window
        assert left == pytest.approx(-30, abs=3)
        hand.page.get_by_role("button", name="Read the whole drawing").click()
        hand.settled(2)
        assert load_job(session.job_path).drawing.window == ()


def test_course_lines_are_drawn_over_the_wall_and_slivers_listed(session, at_the_page):
    # the panel is 8 in high; a window from 36 to 73 leaves 7 in above its head at 80, one from
    # 36 to 79 only 1 in
    outline = [[150, 32], [190, 32], [190, 79], [150, 79]]
    session.edit({"do": "make", "kind": "window", "outline": outline})
    with at_the_page(session) as hand:
        hand.page.get_by_label("Show course lines and slivers").check()
        hand.sees("#course-list", "W1: 14 courses")
        assert hand.page.locator(".course").count() == 1
        sliver = hand.page.locator("#course-list").get_by_role("button").first
        assert '1" left at the head' in sliver.inner_text()
        assert hand.page.locator("polygon.sliver").count() >= 1
        sliver.focus()
        hand.press("Enter")
        hand.page.locator("[data-key='out-4']").click()
        hand.sees("#course-list", "No slivers")


def test_a_wrong_kind_takes_one_click_and_a_garage_door_is_a_kind(session, at_the_page):
    with at_the_page(session) as hand:
        hand.page.locator("[data-key='kind-3-garage']").click()
        hand.settled(1)
        assert hand.kinds() == ["wall", "window", "garage"]
        assert hand.figure("Net") == "186.00 sq ft"
    assert [o.name for o in load_job(session.job_path).drawing.opening_outline] == [
        "window",
        "garage",
    ]


def test_all_elevations_are_confirmed_by_one_click(session, at_the_page):
    with at_the_page(session) as hand:
        hand.page.get_by_role("button", name="I have looked at the elevation").click()
        hand.sees("#sums", "Confirmed: you have looked")
        hand.page.get_by_role("button", name="Undo").click()
        hand.sees("#sums", "Proposed, not confirmed")


def test_the_browser_s_own_accessibility_tree_holds_walls_numbers_and_kinds(session, at_the_page):
    with at_the_page(session) as hand:
        tree = hand.page.locator("body").aria_snapshot()
        for told in (
            'heading "front.dxf: walls and openings" [level=1]',
            'region "Walls and openings"',
            'radiogroup "Kind of O1"',
            'radio "window" [checked]',
            'button "Take out O1"',
            'textbox "Name of W1"',
            'checkbox "Show course lines and slivers"',
            "186.00 sq ft",
        ):
            assert told in tree


def draw_far(path):
    """Two fronts of 24 by 9 ft, 1,500 ft apart: together on the sheet they are specks."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = 1
    msp = document.modelspace()
    for x, side in ((0, "NORTH"), (18_000, "SOUTH")):
        rectangle(msp, x, 0, x + 288, 108)
        msp.add_line((x - 40, 0), (x + 328, 0))
        rectangle(msp, x + 24, 36, x + 60, 72)
        rectangle(msp, x + 26, 38, x + 58, 70)
        msp.add_text(f"{side} ELEVATION", height=8).set_placement((x + 60, -40))
    document.saveas(path)
    return path


def test_elevations_that_were_never_on_the_sheet_are_shown_before_they_can_be_confirmed(
    tmp_path, at_the_page
):
    session = Session(draw_far(tmp_path / "far.dxf"), tmp_path / "far.toml")
    with at_the_page(session) as hand:
        button = hand.page.locator("[data-key=look-all]")
        assert button.inner_text() == "Show what has not been on the sheet yet (2)"
        for _ in range(2):
            assert not session.state()["confirmed"]
            button.click()
            hand.page.wait_for_timeout(150)
        assert button.inner_text() == "I have looked at all 2 elevations"
        button.click()
        hand.sees("#sums", "Confirmed: you have looked")


def test_walls_of_the_job_s_layers_are_listed_beside_those_of_the_page(tmp_path, at_the_page):
    for file in SAMPLES.glob("gatehouse*"):
        shutil.copy(file, tmp_path / file.name)
    session = Session(tmp_path / "gatehouse.dxf", tmp_path / "gatehouse.toml")
    with at_the_page(session) as hand:
        hand.sees("#walls", "Walls from the job's layers")
        assert hand.page.locator(".layer-wall").count() == len(session.figures()["others"])
        assert hand.said == []


def test_a_figure_makes_the_outline_under_the_pointer_that_kind(session, at_the_page):
    with at_the_page(session) as hand:
        kinds = hand.page.locator("#kinds label").all_inner_texts()
        assert kinds.index("vent") == 6
        hand.page.mouse.move(*hand.place(206, 66))
        hand.page.wait_for_selector(".under")
        hand.press("7").settled(1)
        assert hand.kinds() == ["wall", "window", "door", "vent"]
        chosen = hand.page.locator("input[name=kind]:checked")
        assert chosen.get_attribute("value") == "fits"
        # in a field a figure is a figure
        hand.page.get_by_label("Name of W1").fill("")
        hand.press("7", "Tab").settled(2)
        assert session.state()["marks"][0]["name"] == "7"


INK = """([x, y]) => {
    const canvas = document.getElementById('picture'), box = canvas.getBoundingClientRect();
    const share = canvas.width / box.width;
    const at = [(x - box.x) * share - 2, (y - box.y) * share - 2, 5, 5].map(Math.round);
    return canvas.getContext('2d').getImageData(...at).data.some((v, i) => i % 4 === 3 && v > 0);
}"""
"""Whether anything is drawn within two pixels of a place on the screen."""


def test_hatches_are_drawn_and_hidden_with_their_layer(front, at_the_page):
    document = ezdxf.readfile(front)
    msp = document.modelspace()
    solid = msp.add_hatch(dxfattribs={"layer": "FILL"})
    solid.paths.add_polyline_path([(300, 20), (350, 20), (350, 100)], is_closed=True)
    ruled = msp.add_hatch(dxfattribs={"layer": "BRICK"})
    ruled.set_pattern_fill("LINE", scale=1)
    ruled.paths.add_polyline_path([(-50, 10), (-10, 10), (-10, 100), (-50, 100)], is_closed=True)
    document.saveas(front)
    with at_the_page(Session(front, front.with_name("hatched.toml"))) as hand:

        def is_inked(x, y):
            hand.page.wait_for_timeout(150)
            return hand.page.evaluate(INK, list(hand.place(x, y)))

        hand.page.wait_for_selector("#glass[data-drawn]")
        assert is_inked(340, 50)
        assert not is_inked(310, 80)  # beside the slope
        assert is_inked(-30, 50)
        hand.page.get_by_role("button", name="Layers").click()
        hand.page.get_by_label("FILL").uncheck()
        assert not is_inked(340, 50)
        assert is_inked(-30, 50)
        assert hand.said == []


def test_dimensions_are_drawn_with_their_lines(front, at_the_page):
    """One below the wall at y -20, over its 288 in, its text above the line."""
    document = ezdxf.readfile(front)
    document.dimstyles.add("OURS", dxfattribs={"dimtxt": 6.0, "dimexo": 0.0, "dimexe": 0.0})
    msp = document.modelspace()
    dimension = msp.add_linear_dim(
        base=(0, -20), p1=(0, 0), p2=(288, 0), dimstyle="OURS", dxfattribs={"layer": "DIM"}
    )
    dimension.render()
    document.saveas(front)
    with at_the_page(Session(front, front.with_name("measured.toml"))) as hand:
        hand.page.wait_for_selector("#glass[data-drawn]")
        assert hand.page.evaluate(INK, list(hand.place(0, -10)))  # from the wall down to the line
        assert hand.page.evaluate(INK, list(hand.place(220, -20)))  # the line
        assert not hand.page.evaluate(INK, list(hand.place(220, -10)))
        assert hand.said == []


@pytest.mark.parametrize(
    ("wide", "high", "is_touch"),
    [(1280, 720, False), (1024, 768, True), (768, 1024, True)],
)
def test_drawing_choices_and_sums_are_on_the_screen_together(
    session, at_the_page, wide, high, is_touch
):
    tablet = {"has_touch": is_touch, "is_mobile": is_touch}
    with at_the_page(session, viewport={"width": wide, "height": high}, **tablet) as hand:
        boxes = {
            place: hand.page.locator(place).bounding_box()
            for place in ("#sheet", "#ways", "#kinds", "#sums", "#walls .wall")
        }
        for place, box in boxes.items():
            assert box["x"] >= 0 and box["x"] + box["width"] <= wide, place
        assert boxes["#walls .wall"]["y"] < high - 60
        for place in ("#sheet", "#ways", "#kinds", "#sums"):
            assert boxes[place]["y"] + boxes[place]["height"] <= high, place
        assert boxes["#sheet"]["height"] > 0.4 * high
        # each row of choices is one row
        for row in ("#ways", "#kinds"):
            tops = {c.bounding_box()["y"] for c in hand.page.locator(f"{row} label:visible").all()}
            assert len(tops) == 1, row
        assert hand.page.evaluate("document.documentElement.scrollHeight") <= high
