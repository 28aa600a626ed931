"""Days of tests/desk/run with jobs that wait to share a sheet, and with jobs that are laid again."""
import concurrent.futures
import json
import urllib.parse

from desk_program import GUIDE, Desk, arrive, held_job, shops, take_in
from doors import Door

GANG = shops.GANG.format(more="").replace("50%", "100%")
ONE, TWO = (shops.gang_art(f"The quick brown fox {n}") for n in (1, 2))


def waiting(desk):
    return desk.json("/api/today")["lists"]["waiting"]


def what_waits_for_a_sheet(shop, desk):
    """It is told by itself, with its order and since when; laid now by one word, or alone, or rejected."""
    shop.configure(GANG)
    today = desk.json("/api/today")
    assert today["waiting"] == [] and today["lists"]["waiting"]["total"] == 0, today
    inside = Desk(shop, "--door", "127.0.0.1:0")
    try:
        assert Door(inside).send(ONE, name="gang_1.pdf", who="Anna", order="A 17")[0] == 200
    finally:
        inside.close()
    arrive(shop, "gang_2.pdf", TWO)
    take_in(shop)
    first, second = waiting(desk)["jobs"]
    assert [(j["name"], j["order"], j["state"], j["decided"]) for j in (first, second)] == [("A 17-Anna-gang_1.pdf", "A 17", "waiting", False), ("gang_2.pdf", "", "waiting", False)], (first, second)
    assert first["arrived"] <= first["since"], first
    assert desk.json("/api/today")["lists"]["working"]["total"] == 0 and desk.json("/api/jobs?list=waiting&from=1&most=1")["jobs"] == [second]
    assert desk.json("/api/today")["waiting"] == shop.ledger()["waiting"] and shop.ledger()["waiting"][0]["jobs"] == 2
    assert desk.get(f"/api/jobs/{first['job']}/picture").startswith(b"\x89PNG")
    known = desk.json(f"/api/jobs/{first['job']}")
    assert known["may_lay_now"] and known["may_reject"] and known["questions"] == [] and not known["may_lay_again"], known
    for body, status in (({"intake": "nobody"}, 422), ({"target": "nothing"}, 422), ({"target": ["gang"]}, 400), ({"target": "film"}, 409)):
        desk.tell("/api/waiting/now", body, status)
    desk.tell("/api/waiting/now", {}, 403, Origin="http://evil.example")
    desk.tell("/api/waiting/now", {}, 403, **{"X-Layright-Token": "0" * 64})
    assert waiting(desk)["total"] == 2
    answer = desk.tell("/api/waiting/now", {"intake": "desk", "target": "gang"})
    assert answer == {"jobs": 2, "noted": True}, answer
    ready = desk.until(first["job"], "ready")
    assert [e["who"] for e in ready["events"] if e["what"] == "gang now"] == ["desk"] and ready["batch"], ready
    sheets = desk.json(f"/api/jobs/{ready['batch']}")
    assert [p["job"] for p in sheets["pieces"]] == [first["job"], second["job"]] and sheets["state"] == "ready" and "laid" in sheets["files"], sheets
    assert waiting(desk)["total"] == 0 and desk.json("/api/today")["waiting"] == []
    desk.tell("/api/waiting/now", {}, 409)


def one_that_waits_alone(shop, desk):
    """By its own page it is laid alone, or rejected; of two who want all laid at once one hears so."""
    shop.configure(GANG)
    for n in (1, 2, 3, 4):
        arrive(shop, f"gang_{n}.pdf", shops.gang_art(f"The quick brown fox {n}"))
    take_in(shop)
    jobs = [j["job"] for j in waiting(desk)["jobs"]]
    assert len(jobs) == 4 and desk.json("/api/today")["waiting"][0]["fill_pct"] > 100, desk.json("/api/today")["waiting"]
    desk.decide(jobs[3], "discard", why="called off")
    desk.until(jobs[3], "discarded")
    seen = desk.json(f"/api/jobs/{jobs[0]}")["history"]
    desk.tell(f"/api/jobs/{jobs[0]}/now", {"history": seen})
    desk.tell(f"/api/jobs/{jobs[0]}/now", {"history": seen}, 409)
    desk.until(jobs[0], "ready")
    desk.decide(jobs[0], "now", 422)
    sheet = [j for j in shop.jobs() if j["batch"] == j["job"]][0]["job"]
    mates = [p["job"] for p in desk.json(f"/api/jobs/{sheet}")["pieces"]]
    assert len(mates) == 2 and mates[0] == jobs[0], "with it goes what its sheet has room for"
    with concurrent.futures.ThreadPoolExecutor(4) as pool:
        statuses = list(pool.map(lambda _: desk.request("POST", "/api/waiting/now", "{}", desk.changes())[0], range(4)))
    assert sorted(statuses) == [200, 409, 409, 409], statuses
    for job in jobs[:3]:
        desk.until(job, "ready")
    assert shop.run("ledger", "check").returncode == 0


def decided_once_counts_again(shop, desk):
    """Laid again from a page it is not held for what a person has accepted; decided anew it is."""
    arrive(shop, "guide.pdf", shops.pdf("Guide", more=GUIDE))
    take_in(shop)
    job = held_job(desk, "guide.pdf")["job"]
    desk.decide(job, "release", accept=["ink.guide"])
    assert desk.until(job, "ready")["may_decide_anew"]
    desk.decide(job, "again")
    shops.wait_for(lambda: desk.json(f"/api/jobs/{job}")["runs"] == 2 or desk.json(f"/api/jobs/{job}")["state"] == "held")
    known = desk.until(job, "ready")
    told = [e["words"] for e in known["events"] if e["what"] == "again"]
    assert len(told) == 1 and told[0].startswith("again: as released by desk") and "ink.guide" in told[0], told
    desk.decide(job, "anew")
    known = desk.until(job, "held")
    assert [q["check"] for q in known["questions"]] == ["ink.guide"] and not known["may_decide_anew"], known
    # What is looked at now goes by what was said since.
    words = urllib.parse.urlencode({"accept": "ink.guide"})
    assert [f["accepted"] for f in desk.json(f"/api/jobs/{job}/look?{words}")["findings"] if f["check"] == "ink.guide"] == [True]
    assert [f["accepted"] for f in desk.json(f"/api/jobs/{job}/look")["findings"] if f["check"] == "ink.guide"] == [False]
    arrive(shop, "plain.pdf", shops.pdf("Plain"))
    take_in(shop)
    ready = desk.json("/api/today")["lists"]["ready"]["jobs"][0]["job"]
    assert not desk.json(f"/api/jobs/{ready}")["may_decide_anew"]
    assert json.loads(desk.get(f"/api/jobs/{ready}"))["may_lay_again"]


DAYS = [what_waits_for_a_sheet, one_that_waits_alone, decided_once_counts_again]
