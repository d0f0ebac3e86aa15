"""TLS for the counter's own server: the certificate, and waitress channels that speak it.

Waitress has no TLS. Its loop never waits, and neither do these channels: the handshake is part of
the first reads, so that a client that stays silent holds up nobody.
"""

import ssl
import threading
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

from flask import Flask
from waitress.adjustments import Adjustments
from waitress.channel import HTTPChannel
from waitress.server import TcpWSGIServer

from shopdesk.terminal.boundary import BadUsage

# More than a TLS record holds (16 KiB, RFC 8446 section 5.1): after each read nothing decrypted
# stays behind in memory, where the loop, which watches the socket alone, would not see it.
READ_BYTES = 32_768
_NOT_YET = (ssl.SSLWantReadError, ssl.SSLWantWriteError)


def tls_context(certificate: Path, key: Path | None) -> ssl.SSLContext:
    """Returns what the server needs of TLS 1.2 and newer. Raises BadUsage with what is wrong."""
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    for option, file in (("--tls-cert", certificate), ("--tls-key", key)):
        if file is not None and not file.is_file():
            raise BadUsage(f"{option}: {file} is not a file; name a file in PEM form")
    try:
        context.load_cert_chain(certificate, key, password=_no_password)
    except (ssl.SSLError, OSError) as error:
        raise BadUsage(f"--tls-cert: {_why(error, certificate, key)}") from None
    return context


def tls_server(app: Flask, context: ssl.SSLContext, **settings: Any) -> "TlsServer":
    """Returns a waitress server whose channels speak TLS. Raises OSError if it cannot listen."""
    server = TlsServer(app, adj=Adjustments(url_scheme="https", recv_bytes=READ_BYTES, **settings))
    server.context = context
    return server


class TlsChannel(HTTPChannel):
    """One connection; the loop reads from it while a worker may write to it."""

    def __init__(self, *arguments: Any, **more: Any) -> None:
        self._tls_lock = threading.RLock()
        super().__init__(*arguments, **more)

    def handle_read(self) -> None:
        with suppress(_NotYet):
            super().handle_read()

    def recv(self, buffer_size: int) -> bytes:
        try:
            with self._tls_lock:
                data: bytes = self.socket.recv(buffer_size)
        except _NOT_YET:
            raise _NotYet from None
        except OSError:
            data = b""
        if not data:
            self.handle_close()
        return data

    def send(self, data: bytes, do_close: bool = True) -> int:
        try:
            with self._tls_lock:
                sent: int = self.socket.send(data)
                return sent
        except _NOT_YET:
            return 0
        except OSError:
            if do_close:
                self.handle_close()
            return 0

    def handle_close(self) -> None:
        with suppress(OSError, ValueError), self._tls_lock:
            if self.connected:
                self.socket.unwrap()
        super().handle_close()


class TlsServer(TcpWSGIServer):
    """Waitress, with each connection wrapped as it comes in."""

    channel_class = TlsChannel
    context: ssl.SSLContext

    def accept(self) -> tuple[ssl.SSLSocket, Any] | None:
        accepted = super().accept()
        if accepted is None:
            return None
        connection, address = accepted
        connection.setblocking(False)
        try:
            wrapped = self.context.wrap_socket(
                connection, server_side=True, do_handshake_on_connect=False
            )
        except ValueError as error:
            connection.close()
            raise OSError(str(error)) from None
        return wrapped, address


class _NotYet(Exception):
    """There is nothing to read yet; the loop comes back when there is."""


def _no_password() -> NoReturn:
    raise ssl.SSLError("the key is locked with a password")


def _why(error: ssl.SSLError | OSError, certificate: Path, key: Path | None) -> str:
    reason = getattr(error, "reason", None)
    if reason == "KEY_VALUES_MISMATCH":
        return f"the key in {key or certificate} is not the one of {certificate}"
    if "password" in str(error):
        return f"the key in {key or certificate} is locked with a password; give one without"
    if isinstance(error, ssl.SSLError):
        return f"{certificate} and {key or certificate} must hold a certificate and its key as PEM"
    return f"{error.filename or certificate} cannot be read: {error.strerror}"
