"""The page on a socket that can be closed and opened again under the same address."""

import os
import threading

import uvicorn

from coper.page.address import bound
from coper.page.guard import Guard
from coper.page.serve import make_app
from coper.page.shelf import Shelf
from coper.page.site import Site

FIRST = 9100 + 50 * int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
"""Where it looks for a port first: no other worker's page takes this one's while it is closed."""


class Served:
    """The page of a folder."""

    def __init__(self, folder):
        self._folder = folder.resolve()
        self._port = FIRST
        self.open()

    @property
    def address(self):
        """Where it is, or was."""
        return f"http://127.0.0.1:{self._port}/"

    def open(self, key=""):
        """Serve it, to whoever has the key where there is one."""
        listening, self._port = bound(self._port, False)
        site = Site(Shelf(self._folder, None), bool(key))
        app = make_app(site, Guard({f"127.0.0.1:{self._port}"}, key))
        self._server = uvicorn.Server(uvicorn.Config(
            app, log_config=None, lifespan="off", ws="none", timeout_graceful_shutdown=1))
        self._thread = threading.Thread(target=self._server.run, args=([listening],))
        self._thread.start()

    def close(self):
        """End it, as a kill does: nothing answers any more."""
        self._server.should_exit = True
        self._thread.join(20)
