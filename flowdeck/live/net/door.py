"""Who gets as far as a link: the path, browsers, links that say nothing, and encryption."""

import socket
import ssl
from errno import EADDRINUSE
from http import HTTPStatus
from ipaddress import IPv6Address, ip_address, ip_network

from websockets.asyncio.server import ServerConnection
from websockets.http11 import Request, Response

from flowdeck.model.diagnostic import refused

PATH = "/flight"
MOST_WAITING = 32
"""Links that are open and not yet admitted."""


class Waiting:
    """The links that have not been admitted yet."""

    def __init__(self) -> None:
        self.links: set[ServerConnection] = set()

    def turn_away(self, link: ServerConnection, request: Request) -> Response | None:
        """What is no guest's request: another path, or a page of a browser, which says where it comes from."""
        if request.path != PATH:
            return link.respond(HTTPStatus.NOT_FOUND, "there is nothing here\n")
        if "Origin" in request.headers:
            return link.respond(HTTPStatus.FORBIDDEN, "browsers are not guests\n")
        return None

    def connection(self) -> type[ServerConnection]:
        """A kind of connection that counts itself, and is cut where too many wait."""
        waiting = self.links

        class Counted(ServerConnection):
            def connection_made(self, transport: object) -> None:
                super().connection_made(transport)  # type: ignore[arg-type]  # of asyncio, always a Transport
                if len(waiting) >= MOST_WAITING:
                    self.transport.abort()
                else:
                    waiting.add(self)

            def connection_lost(self, exc: Exception | None) -> None:
                waiting.discard(self)
                super().connection_lost(exc)

        return Counted


def address_key(address: str) -> str:
    """What waits for wrong codes: an address; of version 6 its whole net, since that is what one guest has."""
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(found, IPv6Address):
        return str(found.ipv4_mapped or ip_network((found, 64), strict=False))
    return str(found)


def is_loopback(address: str) -> bool:
    """Whether only this machine can reach it."""
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return address == "localhost"


def bind(address: str, port: int) -> socket.socket:
    """A socket that listens there; port 0 is any that is free. Raises `Rejected`."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        return socket.create_server((address, port), family=family)
    except (OSError, UnicodeError) as error:
        mend = "; another port: --port N" if getattr(error, "errno", None) == EADDRINUSE else ""
        raise refused(f"{address}:{port}", "address", f"cannot be listened at: {_why(error)}{mend}") from None


def host_tls(certificate: str, key: str) -> ssl.SSLContext:
    """Encryption with this certificate and key. Raises `Rejected`."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    try:
        context.load_cert_chain(certificate, key, password="")
    except (OSError, ssl.SSLError, ValueError) as error:
        raise refused(certificate, "certificate", f"cannot be used with the key {key}: {_why(error)}") from None
    return context


def guest_tls(authority: str) -> ssl.SSLContext:
    """Trust in *authority* (a file of certificates), or in those of the system; the host's name is checked.

    Raises `Rejected`.
    """
    context = ssl.create_default_context()
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    if authority:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        try:
            context.load_verify_locations(authority)
        except (OSError, ssl.SSLError, ValueError) as error:
            raise refused(authority, "certificate", f"cannot be trusted: {_why(error)}") from None
    return context


def _why(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error) or "not a certificate"
