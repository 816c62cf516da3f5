"""Sends one batch of many lines and watches the resident memory of the service while it is answered."""

import http.client
import json
import sys
import threading
import time

# Above what the allocator keeps for itself from one moment to the next, and far below the size of all the answers.
SLACK_KIB = 24 * 1024


def resident_kib(pid):
    with open(f"/proc/{pid}/status", encoding="ascii") as status:
        return next(int(line.split()[1]) for line in status if line.startswith("VmRSS:"))


def lines(request, count):
    """The lines; every hundredth is not JSON, and one is far too long."""
    for number in range(count):
        if number == count // 2:
            for _ in range(1024):
                yield b"x" * 8192
            yield b"\n"
        elif number % 100 == 99:
            yield b'{"operation": \n'
        else:
            line = {"id": str(number), "operation": "share_load", "request": request}
            yield json.dumps(line).encode() + b"\n"


def send(connection, request, count):
    connection.putrequest("POST", "/v1/batches")
    connection.putheader("Content-Type", "application/x-ndjson")
    connection.putheader("Transfer-Encoding", "chunked")
    connection.endheaders()
    for part in lines(request, count):
        connection.send(f"{len(part):x}\r\n".encode() + part + b"\r\n")
    connection.send(b"0\r\n\r\n")


def main():
    address, pid, path, count = sys.argv[1], int(sys.argv[2]), sys.argv[3], int(sys.argv[4])
    with open(path, encoding="utf-8") as file:
        request = json.load(file)
    begun = time.monotonic()
    connection = http.client.HTTPConnection(address, timeout=120)
    connection.connect()
    # Answers come while lines are still being sent, so sending has a thread of its own.
    sender = threading.Thread(target=send, args=(connection, request, count))
    sender.start()
    # `getresponse` waits for the request to be complete, and here it never is by then.
    response = http.client.HTTPResponse(connection.sock, method="POST")
    response.begin()
    assert response.status == 200, response.status
    memory, problems, size, number = {}, 0, 0, 0
    for number, text in enumerate(response):
        line = json.loads(text)
        size += len(text)
        if "summary" in line:
            break
        assert line["index"] == number, (number, line["index"])
        problems += line["status"] != 200
        assert line["status"] == 200 or number % 100 == 99 or number == count // 2, line
        if number in (count // 10, count // 4, count // 2, 3 * count // 4, count - 1):
            memory[number] = resident_kib(pid)
        if number == count // 4:
            time.sleep(3)
            memory["after 3 s not read"] = resident_kib(pid)
    sender.join()
    expected = count // 100 + 1
    assert line["summary"] == {
        "lines": count, "results": count - expected, "problems": expected, "complete": True,
    }, line
    assert problems == expected
    print(f"{count} lines, {size / 2**20:.0f} MiB of answers in {time.monotonic() - begun:.1f} s; resident KiB:")
    for place, kib in memory.items():
        print(f"  {place}: {kib}")
    early = memory[count // 10]
    worst = max(memory.values())
    assert worst <= early + SLACK_KIB, f"memory grew from {early} to {worst} KiB"


main()
