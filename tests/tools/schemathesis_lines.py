"""Lines of JSON for schemathesis: what it makes up is sent as one line, and of an answer the first line is judged."""

import json

import schemathesis


@schemathesis.serializer("application/x-ndjson")
def write(context, value):
    return json.dumps(value).encode() + b"\n"


@schemathesis.deserializer("application/x-ndjson")
def read(context, response):
    return json.loads(response.content.split(b"\n", 1)[0])
