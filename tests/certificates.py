"""Makes a certificate for loopback, for tests of TLS, with the openssl program."""

import subprocess
from pathlib import Path

from tests.machine import require_tool


def made_certificate(folder: Path, name: str = "shop") -> tuple[Path, Path]:
    """Returns a new self-signed certificate and its key, both PEM."""
    certificate, key = folder / f"{name}.pem", folder / f"{name}.key"
    subprocess.run(
        [
            *(require_tool("openssl"), "req", "-x509", "-newkey", "rsa:2048", "-nodes"),
            *("-days", "2", "-subj", "/CN=localhost"),
            *("-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"),
            *("-keyout", str(key), "-out", str(certificate)),
        ],
        check=True,
        capture_output=True,
        timeout=60,
    )
    return certificate, key
