"""``cardsmith preview``: the site in a browser, as it will be, renewed with every edit."""

from __future__ import annotations

import signal
import threading
from functools import partial

import click

from cardsmith.commands.terminal import FINE, Command
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files


@click.command(
    cls=Command,
    examples=[
        "cardsmith preview                 the site at http://127.0.0.1:8000/, renewed with every edit",
        "cardsmith preview --port 0        at any port that is free",
    ],
)
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8000, show_default=True, help="Where to listen."
)
@click.pass_obj
def preview(publication: Publication, port: int) -> int:
    """Show the site in a browser on this machine, and build what changes, until Ctrl-C.

    Findings stand above each page, with file and line; a recipe with an error keeps its page, which is in no
    build. Nothing listens on any other address.
    """
    from cardsmith.commands.main import main  # noqa: PLC0415 - which has this command in it
    from cardsmith.preview.server import Server, State  # noqa: PLC0415
    from cardsmith.preview.watch import build, follow  # noqa: PLC0415 - the server, which nothing else needs
    from cardsmith.site.addresses import root  # noqa: PLC0415

    named_files(publication, ())  # says what to do where this is no publication
    state, stop = State(), threading.Event()
    for ending in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        # Noted, and heeded where nothing is left behind; by a thread, as this one may hold the event's lock.
        signal.signal(ending, lambda *_: threading.Thread(target=stop.set).start())
    try:
        server = Server(publication.build, root(publication.house().site), port, state)
    except OSError as fault:
        raise CardsmithError(f"cannot listen at port {port}: {fault.strerror}; try --port 0") from fault
    serving = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    serving.start()
    click.echo(f"{server.address} - building; Ctrl-C ends it")
    try:
        follow(publication.root, state, stop, click.echo, partial(build, main))
        click.echo("ended")
    finally:
        state.stop()
        server.shutdown()
        server.server_close()
    return FINE
