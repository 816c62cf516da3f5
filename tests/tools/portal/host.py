"""A page of somebody else that embeds the element: a policy of its own, the service under a path, and a network that can fail."""

import http.client
import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'"
)
PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>A portal</title>
<script type="module" src="inner/lift/portal.js"></script><script type="module" src="host.js"></script></head>
<body><main><h1>A portal</h1><ramwright-lift></ramwright-lift></main></body></html>
"""
# The host sets a request before the element is defined, and listens where events arrive only if they bubble and are composed.
SCRIPT = """
window.seen = [];
for (const name of ["change", "result", "problem"]) {
  document.addEventListener(`ramwright-${name}`, (event) => window.seen.push({
    name, composed: event.composed, bubbles: event.bubbles, detail: Object.keys(event.detail ?? {}),
    status: event.detail?.answer?.verdict?.status ?? event.detail?.problem?.code ?? null,
  }));
}
const answer = await fetch("inner/lift/examples/hub_pull.json");
document.querySelector("ramwright-lift").request = await answer.json();
"""
PREFIX = "/inner/lift"


class Host:
    """The page and its proxy; `trouble` is what calculations meet while it is set, `asked` what was asked for."""

    def __init__(self, service):
        self.service, self.trouble, self.asked = service, None, []
        host = self

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def log_message(self, *_):
                pass

            def do_GET(self):
                host.answer(self)

            do_POST = do_GET

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.server.daemon_threads = True
        threading.Thread(target=self.server.serve_forever, daemon=True).start()
        self.address = f"http://127.0.0.1:{self.server.server_address[1]}"

    def answer(self, asked):
        length = int(asked.headers.get("content-length") or 0)
        body = asked.rfile.read(length) if length else None
        if asked.path == "/":
            self.send(asked, 200, {"content-type": "text/html", "content-security-policy": POLICY}, PAGE.encode())
        elif asked.path == "/host.js":
            self.send(asked, 200, {"content-type": "text/javascript"}, SCRIPT.encode())
        elif asked.path.startswith(PREFIX + "/"):
            self.forward(asked, body)
        else:
            self.send(asked, 404, {"content-type": "text/plain"}, b"not of this page")

    def forward(self, asked, body):
        path = asked.path[len(PREFIX):]
        self.asked.append((asked.command, path))
        if asked.command == "POST" and self.trouble:
            self.fail(asked, self.trouble)
            return
        connection = http.client.HTTPConnection(self.service, timeout=60)
        kept = {name: asked.headers[name] for name in ("content-type", "accept") if asked.headers[name]}
        connection.request(asked.command, path, body, kept)
        answer = connection.getresponse()
        headers = {name: value for name, value in answer.getheaders() if name.lower() in ("content-type", "content-security-policy", "retry-after")}
        self.send(asked, answer.status, headers, answer.read())
        connection.close()

    def fail(self, asked, trouble):
        if trouble == "gone":
            asked.close_connection = True
            asked.connection.close()
        elif trouble == "busy":
            text = b'{"type": "/problems/overloaded", "title": "The service is busy", "status": 503, "code": "overloaded", "detail": "Come back."}'
            self.send(asked, 503, {"content-type": "application/problem+json", "retry-after": "2"}, text)
        else:
            self.send(asked, 502, {"content-type": "text/html"}, b"<h1>Bad gateway</h1>")

    @staticmethod
    def send(asked, status, headers, body):
        try:
            asked.send_response(status)
            for name, value in headers.items():
                asked.send_header(name, value)
            asked.send_header("content-length", str(len(body)))
            asked.end_headers()
            asked.wfile.write(body)
        except (BrokenPipeError, ConnectionResetError):
            # The page has given this call up.
            asked.close_connection = True

    def close(self):
        self.server.shutdown()
        self.server.server_close()
