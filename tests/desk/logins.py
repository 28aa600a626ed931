"""Days of tests/desk/run with users: who gets in, and what those try who should not."""
import contextlib
import json
import socket
import ssl
import subprocess

from desk_program import GUIDE, Desk, arrive, shops, take_in

GOOD = "correct horse"  # a password


def user(shop, *words, said=""):
    return subprocess.run(shop.words("desk", "user", *words), input=said, capture_output=True, text=True, env=shop.environment(), timeout=shops.patience(60))


def log_in(desk, name, password, cookie=None):
    """Status, the cookie that was set, and the answer."""
    headers = {"Origin": desk.address, "Content-Type": "application/json", **({"Cookie": cookie} if cookie else {})}
    status, got, answer = desk.request("POST", "/api/login", json.dumps({"name": name, "password": password}), headers)
    return status, got.get("Set-Cookie", ""), json.loads(answer)


def users_log_in(shop, desk):
    """Names on decisions, sessions that end, and every change with its token."""
    for words, said, status in ((("add", "anna"), f"{GOOD}\n", 0), (("add", "ben"), "another word\n", 0), (("add", "carl"), "short\n", 64), (("add", "a:b"), f"{GOOD}\n", 64),
                                (("remove", "dora"), "", 64), (("list",), "", 0), (("list", "x"), "", 64)):
        run = user(shop, *words, said=said)
        assert run.returncode == status, (words, run)
    assert run.stderr and user(shop, "list").stdout == "anna\nben\n"
    kept = shop / "intake.db.users"
    assert kept.stat().st_mode & 0o777 == 0o600 and GOOD not in kept.read_text() and kept.read_text().count(":$y$") == 2, kept.read_text()
    arrive(shop, "guide.pdf", shops.pdf("Guide", more=GUIDE))
    take_in(shop)
    # The desk that runs already has heard of them.
    assert desk.request("GET", "/")[0] == 303 and desk.request("GET", "/job/1")[1]["Location"] == "/login?then=/job/1"
    for path in ("/api/today", "/api/me", "/api/jobs/1", "/api/jobs/1/files/original", "/api/events", "/api/proofs/x.png"):
        assert desk.request("GET", path)[0] == 401, path
    assert desk.request("GET", "/login")[0] == 200 and desk.request("GET", "/pages/style.css")[0] == 200 and desk.request("GET", "/metrics")[0] == 200
    assert desk.request("GET", "/pages/today.html")[0] == 303
    forged = f"layright-{desk.port}=" + "0" * 64
    for name, password in (("anna", "correct hors"), ("nobody", GOOD), ("anna", ""), ("", "")):
        assert log_in(desk, name, password)[0] == 403
    status, cookie, _ = log_in(desk, "anna", GOOD, forged)
    assert status == 200 and "HttpOnly" in cookie and "SameSite=Strict" in cookie and "Path=/" in cookie, cookie
    mine = cookie.split(";")[0]
    assert mine.startswith(f"layright-{desk.port}=") and mine != forged, "a session that was chosen by others is taken"
    assert desk.request("GET", "/api/today", headers={"Cookie": forged})[0] == 401
    assert desk.request("GET", "/api/today", headers={"Cookie": f"{mine}; {forged}"})[0] == 401, "of two cookies, one somebody has slipped in"
    desk.cookie = mine
    seen = json.loads(desk.get("/api/me"))
    assert seen["user"] == "anna" and len(seen["token"]) == 64
    body = {"history": desk.json("/api/jobs/1")["history"], "accept": ["ink.guide"]}
    bens = log_in(desk, "ben", "another word", "no=session")[1].split(";")[0]
    bens_token = json.loads(desk.request("GET", "/api/me", headers={"Cookie": bens})[2])["token"]
    for token in ("", bens_token, seen["token"][:-1]):
        desk.tell("/api/jobs/1/release", body, 403, **{"X-Layright-Token": token})
    desk.tell("/api/jobs/1/release", body, 401, Cookie="")
    desk.tell("/api/jobs/1/release", body, 403, Origin="http://evil.example")
    desk.tell("/api/jobs/1/release", body)
    desk.until(1, "ready")
    assert [e["who"] for e in desk.json("/api/jobs/1")["events"] if e["what"] == "released"] == ["anna"]
    # Logging in anew ends the session before; logging out ends it at the desk, not only in the browser.
    again = log_in(desk, "anna", GOOD, mine)[1].split(";")[0]
    assert again != mine and desk.request("GET", "/api/today", headers={"Cookie": mine})[0] == 401
    desk.cookie = again
    desk.tell("/api/logout", {})
    assert desk.request("GET", "/api/today")[0] == 401
    # Another password, or none any more, ends them too.
    assert desk.request("GET", "/api/today", headers={"Cookie": bens})[0] == 200
    assert user(shop, "add", "ben", said="third password\n").returncode == 0
    assert desk.request("GET", "/api/today", headers={"Cookie": bens})[0] == 401
    for name in ("anna", "ben"):
        assert user(shop, "remove", name).returncode == 0
    desk.cookie = None
    assert desk.request("GET", "/api/today")[0] == 200


def guessers_wait(shop, desk):
    user(shop, "add", "anna", said=f"{GOOD}\n")
    user(shop, "add", "ben", said="another word\n")
    statuses = [log_in(desk, "anna", f"guess number {i}")[0] for i in range(7)]
    assert statuses == [403] * 5 + [429] * 2, statuses
    assert log_in(desk, "anna", GOOD)[0] == 429, "who guesses for long must not be told by the last answer"
    assert log_in(desk, "ben", "another word")[0] == 200, "others work on"
    many = [log_in(desk, f"name{i}", GOOD)[0] for i in range(20)]
    assert many[-1] == 429 and many.count(403) < 20, many
    (shop / "intake.db.users").write_text("something else\n")
    assert desk.request("GET", "/api/today")[0] == 401, "a damaged list lets nobody in"


def others_come_by_tls_alone(shop, desk):
    """Beyond this machine only with users and TLS; a plain word there is not answered."""
    certificate, key = shop / "desk.crt", shop / "desk.key"
    subprocess.run(["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-keyout", key, "-out", certificate, "-days", "2",
                    "-subj", "/CN=desk.example", "-addext", "subjectAltName=IP:127.0.0.1,DNS:desk.example"], check=True, capture_output=True)
    tls = ["--certificate", certificate, "--key", key]
    for words, word in (([], "TLS"), (tls[:2], "together"), (tls, "--name"), ([*tls, "--name", "desk.example"], "no users"),
                        (["--name", "desk.example", "--certificate", key, "--key", key], "")):
        run = shop.run("desk", "--listen", "0.0.0.0:0", *words)
        assert run.returncode == 64 and word in run.stderr, (words, run)
    user(shop, "add", "anna", said=f"{GOOD}\n")
    bad = shop.run("desk", "--listen", "127.0.0.1:0", "--certificate", key, "--key", key)
    assert bad.returncode == 73 and "certificate" in bad.stderr, bad
    other = Desk(shop, *tls, "--name", "desk.example", listen="0.0.0.0:0", certificate=certificate)
    with contextlib.closing(other):
        assert other.get("/healthz") == b"ok\n"
        assert other.request("GET", "/healthz")[1]["Strict-Transport-Security"]
        assert other.request("GET", "/healthz", headers={"Host": f"desk.example:{other.port}"})[0] == 200
        assert other.request("GET", "/healthz", headers={"Host": f"evil.example:{other.port}"})[0] == 421
        assert b"200" not in other.raw(f"GET /healthz HTTP/1.1\r\nHost: {other.host}\r\n\r\n".encode())
        status, cookie, _ = log_in(other, "anna", GOOD)
        assert status == 200 and cookie.startswith(f"__Host-layright-{other.port}=") and "Secure" in cookie, cookie
        other.cookie = cookie.split(";")[0]
        other.tell("/api/jobs/1/again", {"history": 1}, 403, Origin=f"http://{other.host}")
        other.tell("/api/jobs/1/again", {"history": 1}, 404)
        old = ssl.create_default_context(cafile=certificate)
        old.minimum_version = old.maximum_version = ssl.TLSVersion.TLSv1_1
        with contextlib.suppress(ssl.SSLError, OSError), socket.create_connection(("127.0.0.1", other.port)) as s:
            old.wrap_socket(s, server_hostname="127.0.0.1")
            raise AssertionError("TLS 1.1 is taken")
        # Who does not shake hands is let go; a large body comes through whole.
        with socket.create_connection(("127.0.0.1", other.port)) as s:
            s.settimeout(shops.patience(60))
            s.sendall(b"\x16\x03\x01")
            with contextlib.suppress(ConnectionError):
                assert s.recv(10) == b"" or s.recv(10) == b""
        data = shops.pdf("Large", note="x" * 3_000_000)
        status, _, answer = other.request("POST", "/api/checks?target=film&name=large.pdf", data, {**other.changes(), "Content-Type": "application/octet-stream"})
        look = json.loads(answer)
        assert status == 200 and look["page_count"] == 1 and other.get(look["picture"]).startswith(b"\x89PNG"), look
        # With the last user gone while it runs nobody gets in: it is no desk of this machine alone.
        assert user(shop, "remove", "anna").returncode == 0
        for cookie in (other.cookie, None):
            other.cookie = cookie
            assert [other.request("GET", path)[0] for path in ("/", "/api/today", "/api/me", "/api/jobs/1")] == [303, 401, 401, 401]
        (shop / "intake.db.users").unlink()
        assert other.request("GET", "/api/today")[0] == 401 and log_in(other, "anna", GOOD)[0] != 200
        assert other.end() == 0


def the_configuration_changes(shop, desk):
    """It is read again; what cannot be read changes nothing, and is told."""
    assert [t["name"] for t in desk.json("/api/settings")["targets"]] == ["dark", "film", "plated"]
    shop.configure('[target.new]\nsheet = "film"\nreading = "right"\n')
    shops.wait_for(lambda: "new" in [t["name"] for t in desk.json("/api/settings")["targets"]])
    before = (shop / "layright.toml").read_text()
    (shop / "layright.toml").write_text(before + "\nnonsense = = 1\n")
    shops.wait_for(lambda: desk.json("/api/settings")["trouble"])
    assert "new" in [t["name"] for t in desk.json("/api/settings")["targets"]] and desk.json("/api/today")["trouble"]
    (shop / "layright.toml").write_text(before)
    shops.wait_for(lambda: not desk.json("/api/settings")["trouble"])


def a_restart_asks_nobody_again(shop, desk):
    """Who was logged in still is when the desk is killed and begun again at its address; what the file has lets nobody in."""
    user(shop, "add", "anna", said=f"{GOOD}\n")
    host = desk.host
    assert desk.end() == 0 and not list(shop.folder.glob("intake.db.sessions-*")), "at a port that nobody chose none is kept"
    with contextlib.closing(Desk(shop, listen=host)) as first:
        first.cookie = log_in(first, "anna", GOOD)[1].split(";")[0]
        token = json.loads(first.get("/api/me"))["token"]
        first.process.kill()
        first.process.wait()
    kept, = shop.folder.glob("intake.db.sessions-*")
    assert kept.stat().st_mode & 0o777 == 0o600 and first.cookie.split("=")[1] not in kept.read_text() and token not in kept.read_text()
    with contextlib.closing(Desk(shop, listen=host)) as again:
        assert again.request("GET", "/api/today")[0] == 401
        again.cookie = first.cookie
        assert json.loads(again.get("/api/me")) == {"user": "anna", "token": token}
        for stolen in kept.read_text().split():
            assert again.request("GET", "/api/today", headers={"Cookie": f"layright-{again.port}={stolen}"})[0] == 401, stolen
        again.tell("/api/logout", {})
        again.process.kill()
        again.process.wait()
    with contextlib.closing(Desk(shop, listen=host)) as last:
        assert last.request("GET", "/api/today", headers={"Cookie": first.cookie})[0] == 401, "logging out is forgotten"


DAYS = [users_log_in, a_restart_asks_nobody_again, guessers_wait, others_come_by_tls_alone, the_configuration_changes]
