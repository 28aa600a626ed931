"""The demo's shop in a browser: all that is held there is settled by clicks, and its pages are pictured."""
import contextlib
import json
import pathlib
import shutil
import subprocess

import browser_pipe
from desk_pages import PAGES, PROJECT, desk_of_sheets, desk_run, desk_with_jobs


@contextlib.contextmanager
def demo_desk(build, folder, *words):
    """The demo's art, taken in by the demo's configuration."""
    art = build / "demo" / "art"
    if not any(art.glob("*.pdf")):
        subprocess.run([PROJECT / "examples" / "make_art.py", art], check=True, capture_output=True)
    run = desk_run()
    shop = run.shops.Shop(build / "layright", folder / "shop")
    text = (PROJECT / "examples/layright.toml").read_text().replace("../build/demo/intake/", f"{shop.folder}/").replace("../testfiles", str(PROJECT / "testfiles"))
    (shop / "layright.toml").write_text(text)
    for each in sorted(art.glob("*.pdf")):
        shutil.copy(each, shop / "in")
    shop.once()
    desk = run.Desk(shop, *words)
    browser = browser_pipe.Browser(folder / "browser", run.shops.patience(60))
    try:
        yield desk, browser
    finally:
        browser.close()
        desk.close()
        shop.close()


def button(words, where="main"):
    return f"[...document.querySelectorAll('{where} button')].find((b) => b.textContent.startsWith({json.dumps(words)}))"


def answered(browser, name):
    """The questions of a held job's page, or the customer is asked and it is rejected; how many clicks that took."""
    questions, past = browser.run("[document.querySelectorAll('#questions fieldset').length, document.querySelectorAll('#past li').length]")
    steps = [f"document.querySelectorAll('#questions fieldset')[{n}].querySelector('button')" for n in range(questions)] + [button("Lay it")] * (questions > 1)
    if not questions:
        browser.click(button("Ask the customer for"))
        assert name in browser.run("document.querySelector('#ask textarea').value")
        browser.run("document.getElementById('why-discard').focus()")
        browser.ask("Input.insertText", text="asked for another file")
        steps = [button("Reject", "#questions")]
    for step in steps:
        browser.click(step)
    browser.until(f"/^(ready|rejected|held)$/.test(document.querySelector('#state strong').textContent) && document.querySelectorAll('#past li').length > {past + bool(questions)}")
    return len(steps) + (not questions)


def settled_by_clicks(browser, address):
    """Settles what waits for a person, by what its pages say and offer alone; the clicks for each, from the day's list on."""
    clicks, strips = {}, "[...document.querySelectorAll('#held .strip')]"
    browser.look(1280)
    browser.open(address, "document.querySelector('#ready .count').textContent")
    for job, name in browser.run(f"{strips}.map((each) => [each.dataset.job, each.querySelector('.name').textContent])"):
        browser.open(address, f"document.querySelector('#held [data-job=\"{job}\"]')")
        browser.click(f"document.querySelector('#held [data-job=\"{job}\"]')")
        browser.until(f"location.pathname === '/job/{job}' && document.querySelector('#questions *')")
        clicks[name] = 1
        while (state := browser.run("document.querySelector('#state strong').textContent")) == "held":  # again, where something else is found then
            clicks[name] += answered(browser, name)
        assert state in ("ready", "rejected"), (name, state)
    browser.open(address, "document.querySelector('#held .count').textContent === '0'")
    return clicks


def the_demo_is_settled_by_clicks(build, folder, axe):
    """How many clicks each held file of the demo takes, from the day's list."""
    with demo_desk(build, folder) as (desk, browser):
        clicks = settled_by_clicks(browser, f"http://{desk.host}/")
    print("  clicks: " + ", ".join(f"{name} {count}" for name, count in clicks.items()))
    assert len(clicks) > 5 and max(clicks.values()) <= 4, clicks


def settle(folder, address):
    """The desk that runs there, such as examples/run --desk opens it."""
    browser = browser_pipe.Browser(folder / "browser", 60)
    try:
        for name, count in settled_by_clicks(browser, address).items():
            print(f"{count} clicks: {name}")
    finally:
        browser.close()


WIDTHS = ((360, 800), (1280, 1000), (3840, 2160))


def choose(browser, *files, selector="#file"):
    root = browser.ask("DOM.getDocument")["root"]["nodeId"]
    browser.ask("DOM.setFileInputFiles", files=list(map(str, files)), nodeId=browser.ask("DOM.querySelector", nodeId=root, selector=selector)["nodeId"])


def pictures(build, folder):
    """Of each page with the demo's jobs, to be looked at: build/desk-pages."""
    out = build / "desk-pages"
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir()
    with demo_desk(build, folder, "--door", "127.0.0.1:0") as (desk, browser):
        door = desk_run().doors.Door(desk)
        jobs = {j["name"]: j["job"] for name in ("held", "ready") for j in desk.json("/api/today")["lists"][name]["jobs"]}
        ready = next(j["job"] for j in desk.json("/api/today")["lists"]["ready"]["jobs"])
        desk.tell(f"/api/jobs/{ready}/spoiled", {"why": "fed crooked"})
        made = "(julianday('now') - 2440587.5) * 86400000"
        desk.shop.sqlite(f"UPDATE output SET made = {made} - (id % 9) * 86400000 WHERE id > 4")
        art = "(document.querySelector('#art img')?.complete || document.querySelector('#art .wait:only-child')) && document.querySelector('#found > *') && ![...document.querySelectorAll('.told')].some((t) => /drawn/.test(t.textContent))"
        views = {"today": (f"http://{desk.host}/", PAGES["today"][1], None), "film": (f"http://{desk.host}/film", "document.querySelector('table')", None),
                 "settings": (f"http://{desk.host}/settings", "document.querySelector('#answers h3')", None), "login": (f"http://{desk.host}/login", PAGES["login"][1], None),
                 "check": (f"http://{desk.host}/check", "document.querySelector('option')", lambda: choose(browser, sorted((build / "demo/art").glob("*.pdf"))[0])),
                 "check-two": (f"http://{desk.host}/check", "document.querySelector('option')", lambda: choose(browser, *sorted((build / "demo/art").glob("*.pdf"))[:3])),
                 "door": (f"http://{door.host}/", "document.querySelector('form')", None)}
        views |= {f"job-{pathlib.Path(name).stem}": (f"http://{desk.host}/job/{job}", art, None) for name, job in jobs.items()}
        for name, (address, until, act) in views.items():
            for width, high in WIDTHS:
                for dark in (False, True):
                    browser.look(width, dark, high)
                    browser.open(address, until)
                    if act:
                        act()
                        browser.until("document.querySelector('.window img') && !/being checked/.test(document.getElementById('check').textContent)")
                    browser.run("for (const each of document.images) each.loading = 'eager'")
                    browser.until("[...document.images].every((i) => i.complete)")
                    browser.picture(out / f"{name}-{'dark' if dark else 'light'}-{width}.png", whole=width < 3000)
                if name.startswith("job-") and width == 1280 and not name.endswith(tuple(pathlib.Path(n).stem for n in list(jobs)[:4])):
                    break


    with desk_of_sheets(build, folder / "sheets") as (desk, browser):
        for width, high in WIDTHS:
            browser.look(width, width == 1280, high)
            browser.open(f"http://{desk.host}/", "document.querySelector('#waiting img.thumb')?.naturalWidth > 0 && document.querySelector('#presses *')")
            browser.picture(out / f"sheets-{width}.png", whole=width < 3000)
            browser.open(f"http://{desk.host}/job/1", art)
            browser.picture(out / f"sheets-job-{width}.png", whole=width < 3000)
    with desk_with_jobs(build, folder / "several") as (desk, browser):
        for width, high in WIDTHS:
            browser.look(width, width == 360, high)
            browser.open(f"http://{desk.host}/job/4", art)
            browser.run("document.querySelector('#questions button').focus()")
            browser.until("/comes to/.test(document.getElementById('shown').textContent) && document.querySelector('#art img')?.complete && ![...document.querySelectorAll('.told')].some((t) => /drawn/.test(t.textContent))")
            browser.picture(out / f"two-questions-{width}.png", whole=width < 3000)


TESTS = [the_demo_is_settled_by_clicks]
