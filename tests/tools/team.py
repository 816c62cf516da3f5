"""A team's service under load: copies stop, connections pile up, and every request still gets its answer."""

import atexit
import collections
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time
from pathlib import Path

ROOT, WORK, BINARY = Path(sys.argv[1]), Path(sys.argv[2]), os.environ["SERVER_BINARY"]
SHARES = (ROOT / "openapi/examples/load_shares.json").read_bytes()
VERIFY = (ROOT / "openapi/examples/verify.json").read_bytes()
JSON = {"Content-Type": "application/json"}


def free_port():
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


class Copy:
    """One process of the service."""

    def __init__(self, name, *flags):
        self.port, self.admin = free_port(), free_port()
        self.log = (WORK / f"{name}.log").open("w+b")
        addresses = ["--address", f"127.0.0.1:{self.port}", "--admin-address", f"127.0.0.1:{self.admin}"]
        self.process = subprocess.Popen([BINARY, *addresses, *flags], stdout=self.log, stderr=subprocess.STDOUT)
        # Whatever goes wrong here, none is left behind.
        atexit.register(self.process.kill)
        until(lambda: self.ready() == 200, f"{name} is ready")

    def ready(self):
        return status_of(self.admin, "/health/ready")

    def stop(self):
        """Asks it to stop, and gives its exit code once it has."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=60)

    def kill(self):
        """Ends it at once, as a machine that fails would; whatever it was answering is not answered."""
        self.process.kill()
        return self.process.wait(timeout=60)

    def metrics(self):
        connection = http.client.HTTPConnection("127.0.0.1", self.admin, timeout=20)
        connection.request("GET", "/metrics")
        return connection.getresponse().read().decode()


def status_of(port, path):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    try:
        connection.request("GET", path)
        return connection.getresponse().status
    except OSError:
        return None
    finally:
        connection.close()


def until(holds, words, patience_s=30):
    begun = time.monotonic()
    while not holds():
        assert time.monotonic() - begun < patience_s, f"in vain: {words}"
        time.sleep(0.05)


class Load:
    """Clients that ask one after the other until told to stop; every request is counted by what came of it."""

    def __init__(self, port, clients, keep_alive):
        self.port, self.keep_alive, self.done = port, keep_alive, threading.Event()
        self.count, self.lock = collections.Counter(), threading.Lock()
        self.threads = [threading.Thread(target=self.ask, args=(number,)) for number in range(clients)]
        for thread in self.threads:
            thread.start()

    def ask(self, number):
        connection = None
        path, body = ("/v1/load-shares", SHARES) if number % 2 else ("/v1/ram-sets/verify", VERIFY)
        while not self.done.is_set():
            if connection is None:
                connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
            try:
                connection.request("POST", path, body, JSON)
                response = connection.getresponse()
                response.read()
                outcome = response.status
            except (OSError, http.client.HTTPException) as error:
                outcome, connection = type(error).__name__, None
            if not self.keep_alive and connection is not None:
                connection.close()
                connection = None
            with self.lock:
                self.count[outcome] += 1

    def end(self):
        self.done.set()
        for thread in self.threads:
            thread.join()
        return dict(self.count)


def start_nginx(copies):
    """The nginx.conf that is shipped, with nothing changed but addresses and the folder for what is temporary."""
    port = free_port()
    text = (ROOT / "docker/nginx.conf").read_text(encoding="utf-8")
    for number, copy in enumerate(copies, start=1):
        text, found = re.subn(f"server ramwright-{number}:8080", f"server 127.0.0.1:{copy.port}", text)
        assert found == 1
    text, found = re.subn(r"listen 8080;", f"listen 127.0.0.1:{port};", text)
    assert found == 1
    text = text.replace("/tmp/", f"{WORK}/")
    (WORK / "nginx.conf").write_text(text, encoding="utf-8")
    errors = (WORK / "nginx.log").open("w+b")
    command = ["nginx", "-c", str(WORK / "nginx.conf"), "-g", "daemon off;"]
    process = subprocess.Popen(command, stdout=errors, stderr=errors)
    atexit.register(process.terminate)
    until(lambda: status_of(port, "/health/ready") == 200, "nginx answers")
    return process, port


def one_copy_leaves_under_load(how, leave, expected_code):
    copies = [Copy("first"), Copy("second")]
    nginx, port = start_nginx(copies)
    try:
        assert status_of(port, "/metrics") == 404, "metrics are for the operator only"
        load = Load(port, 8, keep_alive=True)
        time.sleep(2)
        begun = time.monotonic()
        code = leave(copies[0])
        took = time.monotonic() - begun
        time.sleep(2)
        counted = load.end()
        print(f"one of two copies {how} under load in {took:.1f} s: {counted}")
        assert code == expected_code, code
        assert set(counted) == {200}, counted
        assert 20 < counted[200]
        # A batch goes through too, line by line, and the balancer does not hold it back.
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        line = b'{"operation": "share_load", "request": ' + b" ".join(SHARES.split(b"\n")) + b"}\n"
        connection.request("POST", "/v1/batches", line * 50, {"Content-Type": "application/x-ndjson"})
        answer = connection.getresponse().read()
        assert b'"summary":{"lines":50,"results":50,"problems":0,"complete":true}' in answer, answer[-300:]
        assert copies[1].stop() == 0
    finally:
        nginx.terminate()
        nginx.wait(timeout=20)
        for copy in copies:
            copy.process.kill()


def a_copy_by_itself_answers_what_it_was_sent():
    copy = Copy("alone")
    load = Load(copy.port, 8, keep_alive=False)
    time.sleep(1.5)
    copy.process.send_signal(signal.SIGTERM)
    # Like a balancer: whoever sees "not ready" sends nothing new. The service listens on for 3 s.
    until(lambda: copy.ready() == 503, "it says that it stops")
    counted = load.end()
    code = copy.process.wait(timeout=60)
    print(f"stopped under load by itself: {counted}")
    assert code == 0 and set(counted) == {200}, (code, counted)


def connect(port):
    return socket.create_connection(("127.0.0.1", port), timeout=60)


def knock(port):
    """Begins to connect and does not wait for it: half of a crowd waits in the system's queue."""
    one = socket.socket()
    one.setblocking(False)
    one.connect_ex(("127.0.0.1", port))
    return one


def say(one, text):
    try:
        one.send(text)
    except OSError:
        # It was cut off, as it should be, or is not let in yet.
        pass


def answered(one):
    """The status that comes back, or what came instead."""
    try:
        head = one.recv(64)
    except OSError as error:
        return type(error).__name__
    return int(head.split()[1]) if head.startswith(b"HTTP/1.1 ") else "closed"


def crowds_and_slow_senders_harm_nobody():
    copy = Copy("crowd", "--header-timeout-s", "4", "--body-timeout-s", "4")
    crowd = [knock(copy.port) for _ in range(2000)]
    for number, one in enumerate(crowd):
        if number % 4 == 0:
            say(one, b"POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nX-Slow: ")
    for _ in range(4):
        for one in crowd[::4]:
            say(one, b"a")
        assert copy.ready() == 200, "the operator is answered whoever crowds the door"
        time.sleep(1)
    # Those that say nothing are cut off, and whoever asks is answered.
    begun = time.monotonic()
    with connect(copy.port) as one:
        one.sendall(b"GET /v1/units HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        assert answered(one) == 200
    took = time.monotonic() - begun
    print(f"2000 connections that say little: another was answered after {took:.1f} s")
    assert took < 30, "they hold their places for longer than a head may take"
    for one in crowd:
        one.close()
    outcomes = collections.Counter()
    large = b"x" * (3 * 1024 * 1024)
    for number in range(60):
        with connect(copy.port) as one:
            head = b"POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
            if number % 2:
                parts = [head + b"Content-Length: %d\r\n\r\n" % len(large), large]
            else:
                parts = [head + b"Transfer-Encoding: chunked\r\n\r\n%x\r\n" % len(large), large, b"\r\n0\r\n\r\n"]
            try:
                for part in parts:
                    one.sendall(part)
            except OSError:
                # It need not read what it has refused already.
                pass
            outcomes[answered(one)] += 1
    print(f"bodies of 3 MiB: {dict(outcomes)}")
    assert not [one for one in outcomes if isinstance(one, int) and one != 413], outcomes
    assert outcomes[413], outcomes
    # More at once than it takes: each is answered, or refused with a time to come back.
    load = Load(copy.port, 200, keep_alive=True)
    time.sleep(4)
    counted = load.end()
    print(f"200 clients at once: {counted}")
    assert set(counted) <= {200, 503} and counted.get(200), counted
    assert copy.process.poll() is None and copy.ready() == 200
    failed = [line for line in copy.metrics().splitlines() if re.search(r'status="5(?!03)\d\d"', line)]
    assert not failed, failed
    assert copy.stop() == 0


one_copy_leaves_under_load("was asked to stop", Copy.stop, 0)
one_copy_leaves_under_load("was killed", Copy.kill, -signal.SIGKILL)
a_copy_by_itself_answers_what_it_was_sent()
crowds_and_slow_senders_harm_nobody()
print("team: no request lost, nothing crashed, nothing failed")
