"""Encrypted links: the host's certificate is checked, and nothing is heard without."""

import ssl
from pathlib import Path

import pytest
import trustme

from flowdeck.live.net.door import bind, guest_tls, host_tls, is_loopback
from flowdeck.live.net.link import GuestLink
from flowdeck.model.diagnostic import Rejected
from flowdeck.wire.link.stations import Station
from tests.support.cockpit import TestClock
from tests.support.crewed import Hosted, new_host


class Files:
    """A certificate for *name* by an authority of its own, as files."""

    def __init__(self, folder: Path, name: str) -> None:
        authority = trustme.CA()
        made = authority.issue_cert(name)
        self.authority, self.certificate, self.key = (str(folder / f"{name}.{kind}") for kind in ("ca", "pem", "key"))
        authority.cert_pem.write_to_path(self.authority)
        made.cert_chain_pems[0].write_to_path(self.certificate)
        made.private_key_pem.write_to_path(self.key)


async def linked(folder: Path, name: str, trusts: str, **options: object) -> tuple[GuestLink, bool]:
    """A guest of an encrypted host whose certificate is for *name*, that trusts the authority of file *trusts*."""
    files = Files(folder, name)
    clock = TestClock()
    h = Hosted(new_host(None, clock), clock)
    await h.serve(tls=host_tls(files.certificate, files.key))
    link = h.link(Station.CAPTAIN, tls=guest_tls(trusts or files.authority), **options)  # type: ignore[arg-type]
    ready = await link.ready()
    await h.leave()
    return link, ready


async def test_a_certificate_that_is_trusted(tmp_path: Path) -> None:
    link, ready = await linked(tmp_path, "127.0.0.1", "")
    assert ready and link.links == 1


async def test_an_authority_that_is_not_the_hosts(tmp_path: Path) -> None:
    """Refused for good, with the way to mend it."""
    other = Files(tmp_path, "other.example")
    link, ready = await linked(tmp_path, "127.0.0.1", other.authority)
    assert not ready and link.following.final and link.links == 0
    assert link.following.closed.startswith("the host's certificate is not trusted: ")
    assert link.following.closed.endswith("; if it is the host's own: --ca FILE")


async def test_a_certificate_for_another_name(tmp_path: Path) -> None:
    link, ready = await linked(tmp_path, "elsewhere.example", "")
    assert not ready and "IP address mismatch" in link.following.closed


async def test_a_guest_without_encryption_hears_nothing(tmp_path: Path) -> None:
    files = Files(tmp_path, "127.0.0.1")
    clock = TestClock()
    h = Hosted(new_host(None, clock), clock)
    await h.serve(tls=host_tls(files.certificate, files.key))
    link = h.link(Station.CAPTAIN)
    await link.until(lambda: link.unreached != "")
    assert link.links == 0 and link.following.deck is None
    await h.leave()


def test_old_versions_are_not_spoken(tmp_path: Path) -> None:
    files = Files(tmp_path, "127.0.0.1")
    for context in (host_tls(files.certificate, files.key), guest_tls(files.authority), guest_tls("")):
        assert context.minimum_version is ssl.TLSVersion.TLSv1_2
    assert guest_tls(files.authority).check_hostname and guest_tls("").check_hostname


def test_files_that_are_no_certificates_are_refused(tmp_path: Path) -> None:
    files = Files(tmp_path, "127.0.0.1")
    bad = tmp_path / "bad.pem"
    bad.write_text("nothing", encoding="ascii")
    for certificate, key in ((str(bad), files.key), (files.certificate, str(bad)), (str(tmp_path / "no"), files.key)):
        with pytest.raises(Rejected, match="cannot be used with the key"):
            host_tls(certificate, key)
    for authority in (str(bad), str(tmp_path / "no")):
        with pytest.raises(Rejected, match="cannot be trusted"):
            guest_tls(authority)


def test_what_only_this_machine_reaches() -> None:
    assert all(is_loopback(address) for address in ("127.0.0.1", "127.8.8.8", "::1", "localhost"))
    assert not any(is_loopback(address) for address in ("0.0.0.0", "::", "192.0.2.1", "trainer.example", ""))


def test_an_address_that_is_taken_is_refused_with_the_way_out() -> None:
    with bind("127.0.0.1", 0) as door:
        port = door.getsockname()[1]
        with pytest.raises(Rejected, match=r"cannot be listened at: .*; another port: --port N"):
            bind("127.0.0.1", port)
    with pytest.raises(Rejected, match="cannot be listened at"):
        bind("192.0.2.1", 0)
