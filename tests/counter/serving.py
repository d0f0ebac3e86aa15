"""The counter served on loopback inside a test, for a real browser; each request is logged."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from flask import Flask
from werkzeug.serving import make_server


@contextmanager
def on_loopback(app: Flask) -> Iterator[str]:
    """Serves a counter on a free port until the end of the block; gives its address."""
    server = make_server("127.0.0.1", 0, app, threaded=True)
    serving = threading.Thread(target=server.serve_forever, daemon=True)
    serving.start()
    yield f"http://127.0.0.1:{server.port}"
    server.shutdown()
    serving.join()
    server.server_close()
