"""The pages of the desk in a browser: axe-core finds nothing, light and dark, at 360 and 1280 pixels; the day by clicks and by keys; no name runs."""
import base64
import contextlib
import importlib.machinery
import importlib.util
import json
import pathlib
import time

import browser_pipe

PROJECT = pathlib.Path(__file__).parents[2]
PAGES = {"today": ("/", "document.querySelector('.strip') && document.querySelector('#presses *')"), "job": ("/job/2", "document.querySelector('#art img, #art .wait:only-child') && document.querySelector('#found > *')"),
         "several": ("/job/4", "document.querySelector('#art img') && document.querySelector('#found > *')"), "film": ("/film", "document.querySelector('table')"),
         "check": ("/check", "document.querySelector('option')"), "settings": ("/settings", "document.querySelector('dl')"), "login": ("/login", "document.activeElement.id === 'name'")}
TITLE = b"/Root 1 0 R/Info<</Title(<script>window.ran = 1</script><img src=x onerror=window.ran=1>)>>"
FRAME = " 1 0 0 RG 2 w 20 20 572 752 re S"  # near the page's edge, all else inside: ink.guide


def desk_run():
    loader = importlib.machinery.SourceFileLoader("desk_run", str(PROJECT / "tests/desk/run"))
    module = importlib.util.module_from_spec(importlib.util.spec_from_loader("desk_run", loader))
    loader.exec_module(module)
    return module


@contextlib.contextmanager
def desk_with_jobs(build, folder):
    """Its jobs: 1 laid, spoiled once; 2 held for one question, under a name full of markup; 3 held and rejected; 4 held for two questions."""
    run = desk_run()
    folder.mkdir(exist_ok=True)
    shop = run.shops.Shop(build / "layright", folder / "shop", "subfolders = true\n")
    large = run.shops.pdf("Both", size=(1400, 1400), more=" 1 0 0 RG 2 w 20 20 1360 1360 re S")
    for name, data in (("a-sheet.pdf", run.shops.pdf("Hello")), ("fox & co/b-<b>bold.pdf", run.shops.pdf("Guide", more=FRAME).replace(b"/Root 1 0 R", TITLE)), ("c-blank.pdf", run.shops.pdf("")), ("d-both.pdf", large)):
        if name.startswith("d-"):
            config = shop / "layright.toml"
            config.write_text(config.read_text().replace('scale = "shrink"', 'scale = "keep"'))
        run.arrive(shop, name, data)
        shop.once()
    desk = run.Desk(shop)
    browser = browser_pipe.Browser(folder / "browser", run.shops.patience(60))
    try:
        desk.tell("/api/jobs/1/spoiled", {"why": "fed crooked"})
        desk.decide(3, "discard", why="withdrawn")
        desk.until(3, "discarded")
        yield desk, browser
    finally:
        browser.close()
        desk.close()
        shop.close()


MEASURE = """(() => {
  const faults = [], wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
  if (wide > 0) faults.push(`${wide} pixels wider than the window`);
  for (const each of document.querySelectorAll('a, button, select, input:not([type=checkbox]), summary')) {
    const box = each.getBoundingClientRect(), in_text = each.tagName === 'A' && each.closest('p');
    if (box.width && !in_text && !each.matches('.skip') && (box.height < 44 || box.width < 44)) faults.push(`${each.outerHTML.slice(0, 80)} is ${box.width} x ${box.height}`);
  }
  return faults; })()"""
CLICK = """(async (find) => { const each = [...document.querySelectorAll('a, button')].find((b) => b.getBoundingClientRect().height && find(b));
  if (!each) throw new Error('nothing to click: ' + find); each.click(); })"""
JUDGE = "axe.run().then((r) => ({tests: r.passes.length, faults: r.violations.map((v) => [v.id, v.nodes.length, v.nodes[0].html, v.nodes[0].failureSummary].join(' '))}))"


def desk_pages_are_for_all(build, folder, axe):
    faults = []
    with desk_with_jobs(build, folder) as (desk, browser):
        for name, (path, ready) in PAGES.items():
            for dark in (False, True):
                for width in (360, 1280, 3840):
                    browser.look(width, dark)
                    browser.open(f"http://{desk.host}{path}", ready)
                    browser.run(axe + ";0")
                    found = browser.run(JUDGE)
                    assert found["tests"] > 10, found
                    faults += [f"{name}, {'dark' if dark else 'light'}, {width}: {f}" for f in found["faults"] + browser.run(MEASURE)]
    assert not faults, "\n".join(faults[:20])


def the_day_by_clicks_and_keys(build, folder, axe):
    """Arrivals come by themselves; a hold is settled in two clicks from the list; a name's markup is text; the second of two is told."""
    with desk_with_jobs(build, folder) as (desk, browser):
        browser.ask("Page.setBypassCSP", enabled=False)
        browser.open(f"http://{desk.host}/", "document.querySelectorAll('#held .strip').length === 2")
        assert browser.run("document.querySelector('#held .name').textContent") == "b-<b>bold.pdf" and not browser.run("document.querySelector('main b')")
        told = browser.run("document.querySelector('#held .strip').innerText")
        assert all(word in told for word in ("Guide box will print.", "folder fox & co", "since", "for film")) and "--" not in told, told
        browser.until("document.querySelector('#held img.thumb')?.naturalWidth > 100")
        assert "used" in browser.run("document.getElementById('film').innerText") and browser.run("document.getElementById('ready').querySelectorAll('.strip').length") == 1
        desk_run().arrive(desk.shop, "e-new.pdf", desk_run().shops.pdf("New", more=FRAME))
        desk.shop.once()
        browser.until("document.querySelectorAll('#held .strip').length === 3")
        browser.press("j")
        assert browser.run("document.activeElement.dataset.job") == "2"
        browser.press("Enter")
        browser.until("location.pathname === '/job/2' && document.querySelector('#questions button')")
        browser.press("a")
        assert browser.run("document.activeElement.textContent") == "Guide is part of the art" and not browser.run("window.ran || document.querySelector('main script, main b')")
        browser.until("/Guide is part of the art/.test(document.getElementById('shown').textContent) && document.querySelector('#questions img.outcome:not([hidden])')")
        browser.until("document.querySelector('#art img')?.complete")
        browser.run(f"{CLICK}((b) => b.textContent === 'Larger')")
        wide = browser.run("(() => { const w = document.querySelector('#art .window'); w.scrollTo(0, 0); return w.scrollWidth / w.clientWidth; })()")
        where = browser.run("(() => { const b = document.querySelector('#art .window').getBoundingClientRect(); return [b.x + b.width / 2, b.y + 60]; })()")
        for kind, x, y in (("mousePressed", 0, 0), ("mouseMoved", -80, -20), ("mouseReleased", -80, -20)):
            browser.ask("Input.dispatchMouseEvent", type=kind, x=where[0] + x, y=where[1] + y, button="left", buttons=1, clickCount=1)
        assert wide > 1.9 and browser.run("document.querySelector('#art .window').scrollLeft") == 80, wide
        browser.run("document.querySelector('#questions button').focus()")
        browser.press("Enter")
        browser.until("document.querySelector('#state strong')?.textContent === 'ready'")
        browser.run("document.getElementById('why-spoiled').value = 'fed crooked'")
        browser.run(f"{CLICK}((b) => b.textContent === 'Count it')")
        browser.until("document.getElementById('said').textContent === 'Counted.' && /fed crooked/.test(document.getElementById('past').textContent)")
        browser.open(f"http://{desk.host}/job/1", "document.querySelector('#state strong')?.textContent === 'ready'")
        browser.run(f"{CLICK}((b) => b.textContent === 'Lay again')")
        browser.until("[...document.querySelectorAll('#past li')].filter((each) => /laid:/.test(each.textContent)).length === 2 && document.querySelector('#state strong')?.textContent === 'ready'")
        assert desk.json("/api/jobs/1")["runs"] == 2
        browser.open(f"http://{desk.host}/job/3", "document.querySelector('#state strong')?.textContent === 'rejected'")
        browser.open(f"http://{desk.host}/job/4", "document.querySelectorAll('fieldset').length === 2")
        assert browser.run("document.querySelector('#questions .main').disabled")
        browser.press("r")
        assert browser.run("document.activeElement.id") == "why-discard"
        browser.run("document.activeElement.blur()")
        browser.run("document.querySelectorAll('fieldset button').forEach((b) => { if (!b.textContent.startsWith('Width')) b.click(); })")
        seen = desk.json("/api/jobs/4")["history"]
        desk.tell("/api/jobs/4/discard", {"history": seen, "why": "first"})
        browser.run("document.querySelector('#questions .main')?.click()")
        browser.until("/Somebody was faster|rejected/.test(document.querySelector('main').textContent)")


def long_lists_come_in_pages(build, folder, axe):
    """Of a thousand held jobs fifty are shown, and all can be gone through; how soon they stand there."""
    with desk_with_jobs(build, folder) as (desk, browser):
        columns = desk.shop.sqlite("SELECT group_concat(name, ',') FROM pragma_table_info('entry') WHERE name <> 'id'")
        desk.shop.sqlite(f"INSERT INTO entry({columns}) SELECT {columns} FROM entry, (WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n WHERE i < 998) SELECT i FROM n) WHERE id = 2")
        begun = time.monotonic()
        browser.open(f"http://{desk.host}/", "document.querySelectorAll('#held .strip').length === 50 && document.querySelector('#held .count').textContent === '1000'")
        print(f"  1,000 held jobs: the day stands in the browser after {time.monotonic() - begun:.2f} s")
        shown = "document.querySelector('#held .pager').innerText"
        assert "1 to 50 of 1000" in browser.run(shown) and browser.run("document.querySelector('#held .pager button').disabled")
        browser.click("document.querySelectorAll('#held .pager button')[1]")
        browser.until(f"/51 to 100 of 1000/.test({shown}) && document.querySelectorAll('#held .strip').length === 50")
        browser.click("document.querySelectorAll('#held .pager button')[0]")
        browser.until(f"/1 to 50 of 1000/.test({shown})")


def a_killed_watcher_is_told(build, folder, axe):
    """A page that is open hears that the watcher is gone, and that one runs again; what is decided meanwhile is done."""
    with desk_with_jobs(build, folder) as (desk, browser):
        watcher = desk.shop.begin()
        browser.open(f"http://{desk.host}/", "document.querySelector('.strip') && document.getElementById('watcher').hidden")
        watcher.kill()
        watcher.wait()
        browser.until("!document.getElementById('watcher').hidden")
        browser.open(f"http://{desk.host}/job/2", "document.querySelector('#questions button')")
        browser.run("document.querySelector('#questions button').click()")
        browser.until("document.querySelector('#state strong')?.textContent === 'ready'")
        browser.open(f"http://{desk.host}/", "document.querySelector('.strip') && !document.getElementById('watcher').hidden")
        desk.shop.begin()
        browser.until("document.getElementById('watcher').hidden")


def a_restart_loses_no_page(build, folder, axe):
    """The desk is killed and begun again while its pages are open: they go on, with what is new."""
    run = desk_run()
    with desk_with_jobs(build, folder) as (desk, browser):
        browser.open(f"http://{desk.host}/job/2", "document.querySelector('#questions button')")
        browser.run("window.stays = true")
        desk.close()
        run.arrive(desk.shop, "f-new.pdf", run.shops.pdf("New", more=FRAME))
        desk.shop.once()
        again = run.Desk(desk.shop, listen=desk.host)
        try:
            browser.run("document.querySelector('#questions button').click()")
            browser.until("document.querySelector('#state strong')?.textContent === 'ready' && window.stays")
            browser.open(f"http://{desk.host}/", "document.querySelectorAll('#held .strip').length === 2")
            browser.run("window.stays = true")
            again.close()
            run.arrive(desk.shop, "g-new.pdf", run.shops.pdf("Newer", more=FRAME))
            desk.shop.once()
            again = run.Desk(desk.shop, listen=desk.host)
            browser.until("document.querySelectorAll('#held .strip').length === 3 && window.stays")
        finally:
            again.close()


def a_login_outlives_a_restart(build, folder, axe):
    """Who is logged in works on, on the page that is open, when the desk was killed and begun again."""
    run = desk_run()
    with desk_with_jobs(build, folder) as (desk, browser):
        desk.close()
        assert run.logins.user(desk.shop, "add", "anna", said=f"{run.logins.GOOD}\n").returncode == 0
        now = run.Desk(desk.shop, listen=desk.host)
        try:
            browser.open(f"http://{desk.host}/login?then=/job/2", "document.activeElement.id === 'name'")
            browser.run(f"document.getElementById('name').value = 'anna'; document.getElementById('password').value = '{run.logins.GOOD}'; document.querySelector('form button').click()")
            browser.until("location.pathname === '/job/2' && document.querySelector('#questions button')")
            browser.run("window.stays = true")
            now.close()
            now = run.Desk(desk.shop, listen=desk.host)
            browser.run("document.querySelector('#questions button').click()")
            browser.until("document.querySelector('#state strong')?.textContent === 'ready' && window.stays")
            assert browser.run("[...document.querySelectorAll('#past strong')].map((e) => e.textContent)").count("anna") == 1
            # A link from elsewhere, which brings no cookie, does not ask for the password again.
            other = folder / "message.html"
            other.write_text(f'<!DOCTYPE html><a href="http://{now.host}/job/1">the job</a>')
            browser.open(other.as_uri(), "document.querySelector('a')")
            browser.click("document.querySelector('a')")
            browser.until("location.pathname === '/job/1' && document.querySelector('#state strong')?.textContent === 'ready'")
        finally:
            now.close()


def several_files_are_dropped(build, folder, axe):
    """Each is checked and told by itself, on whatever page they are dropped; then all are handed in."""
    with desk_with_jobs(build, folder) as (desk, browser):
        run = desk_run()
        browser.open(f"http://{desk.host}/film", "document.querySelector('table')")
        files = {"one.pdf": run.shops.pdf("One"), "two.pdf": run.shops.pdf("Two", more=FRAME), "<i>three.pdf": b"no PDF"}
        drop = ", ".join(f"new File([Uint8Array.from(atob('{base64.b64encode(data).decode()}'), (c) => c.charCodeAt(0))], {json.dumps(name)})" for name, data in files.items())
        browser.run(f"(() => {{ const data = new DataTransfer(); for (const each of [{drop}]) data.items.add(each); document.dispatchEvent(new DragEvent('drop', {{dataTransfer: data, bubbles: true, cancelable: true}})); }})()")
        browser.until("document.querySelectorAll('dialog summary').length === 3")
        verdicts = browser.run("[...document.querySelectorAll('dialog summary')].map((each) => each.textContent)")
        assert [v.split("pdf")[-1] for v in verdicts] == [" would be laid, and fixed on the way.", " would be held for a person.", " would be held for a person."], verdicts
        assert not browser.run("document.querySelector('dialog i')")
        browser.run("document.querySelectorAll('dialog details').forEach((each) => { each.open = true; })")
        for dark, width in ((False, 1280), (True, 360)):
            browser.look(width, dark)
            browser.run(axe + ";0")
            faults = browser.run(JUDGE)["faults"] + browser.run(MEASURE)
            assert not faults, faults
        browser.run(f"{CLICK}((b) => b.textContent === 'Hand all 3 in')")
        browser.until("/Handed in to desk/.test(document.querySelector('dialog .said')?.textContent)")
        assert len([p for p in (desk.shop / "in").rglob("*") if p.is_file()]) == 3


@contextlib.contextmanager
def desk_of_sheets(build, folder):
    """Two jobs wait to share a sheet, 1 and 2."""
    run = desk_run()
    folder.mkdir(exist_ok=True)
    shop = run.shops.Shop(build / "layright", folder / "shop", run.shops.GANG.format(more="").replace("50%", "100%"))
    for n in (1, 2):
        run.arrive(shop, f"gang_{n}.pdf", run.shops.gang_art(f"The quick brown fox {n}"))
        shop.once()
    desk = run.Desk(shop)
    browser = browser_pipe.Browser(folder / "browser", run.shops.patience(60))
    try:
        yield desk, browser
    finally:
        browser.close()
        desk.close()
        shop.close()


def what_waits_is_laid_by_a_click(build, folder, axe):
    """Jobs that wait to share a sheet are told on Today, and laid by its button; their pages lead to their sheet's."""
    faults = []
    with desk_of_sheets(build, folder) as (desk, browser):
        for name, path, ready in (("today", "/", "document.querySelectorAll('#waiting .strip').length === 2"), ("job", "/job/1", "document.querySelector('#art img')")):
            for dark in (False, True):
                for width in (360, 1280):
                    browser.look(width, dark)
                    browser.open(f"http://{desk.host}{path}", ready)
                    browser.run(axe + ";0")
                    faults += [f"{name}, {width}: {f}" for f in browser.run(JUDGE)["faults"] + browser.run(MEASURE)]
        assert not faults, "\n".join(faults)
        browser.open(f"http://{desk.host}/", "document.querySelector('#waiting img.thumb')")
        told = browser.run("document.getElementById('waiting').innerText")
        assert all(word in told for word in ("2 jobs wait for gang:", "% of a sheet", "gang_1.pdf", "since")), told
        browser.run(f"{CLICK}((b) => b.textContent === 'Lay them now')")
        browser.until("document.getElementById('waiting').hidden && document.querySelectorAll('#ready .strip').length === 3")
        assert "Noted: 2 jobs wait no more." == browser.run("document.getElementById('said').textContent")
        browser.open(f"http://{desk.host}/job/1", "document.querySelector('#state a')")
        browser.run(f"{CLICK}((b) => b.textContent === 'job 3')")
        browser.until("location.pathname === '/job/3' && document.querySelector('#art img') && /Pieces: 1 gang_1.pdf, 2 gang_2.pdf/.test(document.getElementById('state').textContent)")


def the_door_is_for_all(build, folder, axe):
    run = desk_run()
    shop = run.shops.Shop(build / "layright", folder / "shop")
    shop.once()
    desk = run.Desk(shop, "--door", "127.0.0.1:0")
    browser = browser_pipe.Browser(folder / "browser", run.shops.patience(60))
    faults = []
    try:
        door = run.doors.Door(desk)
        for dark in (False, True):
            for width in (360, 1280):
                browser.look(width, dark)
                browser.open(f"http://{door.host}/", "document.querySelector('form')")
                browser.run(axe + ";0")
                faults += browser.run(JUDGE)["faults"] + browser.run(MEASURE)
        browser.ask("Page.setBypassCSP", enabled=False)
        browser.open(f"http://{door.host}/", "document.querySelector('form')")
        art = folder / "<b>art.pdf"
        art.write_bytes(run.shops.pdf("Art"))
        browser.run("document.getElementById('who').value = 'Anna <i>B</i>'; document.getElementById('order').value = '17'")
        root = browser.ask("DOM.getDocument")["root"]["nodeId"]
        browser.ask("DOM.setFileInputFiles", files=[str(art)], nodeId=browser.ask("DOM.querySelector", nodeId=root, selector="#file")["nodeId"])
        browser.run(f"{CLICK}((b) => b.type === 'submit')")
        browser.until("/Thank you/.test(document.getElementById('said').textContent)")
        assert not browser.run("document.querySelector('main b, main i')")
        assert len(list((shop / "in").iterdir())) == 1
    finally:
        browser.close()
        desk.close()
        shop.close()
    assert not faults, faults


TESTS = [desk_pages_are_for_all, the_day_by_clicks_and_keys, what_waits_is_laid_by_a_click, long_lists_come_in_pages, the_door_is_for_all, a_killed_watcher_is_told, a_restart_loses_no_page, a_login_outlives_a_restart, several_files_are_dropped]
