"""Proxies as the Jupyter server's HTTP client takes them; it dies of any other form."""

import re
from collections.abc import Mapping
from ipaddress import IPv4Address, IPv6Address

#: What the environment may name a proxy, in capitals or not.
NAMED = ("HTTP_PROXY", "HTTPS_PROXY", "ALL_PROXY")
NAME = re.compile(r"[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)*\.?")
#: Scheme, user and password, host, port.
PROXY = re.compile(
    r"(?P<scheme>https?://|//|)(?P<user>[A-Za-z0-9._~%!$&'()*+,;=:-]*@|)"
    r"(?P<host>[^][@/:]+|\[[^][@/]+\])(?P<port>:[0-9]{1,5}|)/?",
    re.IGNORECASE,
)
#: Hosts that need no proxy: with its first parts left open, a port, a range of addresses.
APART = re.compile(r"(\*?\.)?(?P<host>[^][@/:*]+)(:[0-9]{1,5}|/[0-9]{1,2})?")


def taken(environment: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """What the environment says about proxies, as the server can take it.

    Returns
    -------
    proxies : dict
        Variable -> its value; empty where it must be left out.
    left_out : list of str
        Variables whose proxy the server cannot take. Their values may hold a password.
    """
    found, left_out = {}, []
    for name, value in environment.items():
        if name.upper() in NAMED:
            found[name] = _proxy(value.strip())
            if value.strip() and not found[name]:
                left_out.append(name)
        elif name.upper() == "NO_PROXY":
            found[name] = ",".join(filter(None, map(_apart, value.split(","))))
    return found, left_out


def _proxy(value):
    """A proxy with its scheme, or nothing."""
    parts = PROXY.fullmatch(value)
    if (
        not parts
        or not _is_host(parts["host"])
        or int(parts["port"][1:] or 80) not in range(1, 65536)
    ):
        return ""
    scheme = parts["scheme"].lower() if parts["scheme"] not in {"", "//"} else "http://"
    return f"{scheme}{parts['user']}{parts['host']}{parts['port']}"


def _apart(host):
    """A host that needs no proxy, or nothing."""
    host = host.strip()
    if _is_address(IPv6Address, host.strip("[]")):
        return host.strip("[]")
    parts = APART.fullmatch(host)
    return host if host == "*" or (parts and _is_host(parts["host"])) else ""


def _is_host(text):
    """Whether a text is a name or an address."""
    if text.startswith("["):
        return _is_address(IPv6Address, text[1:-1])
    if re.fullmatch("[0-9.]+", text):
        return _is_address(IPv4Address, text)
    return bool(NAME.fullmatch(text))


def _is_address(kind, text):
    try:
        return "%" not in str(kind(text))  # a part of the network that only this computer knows
    except ValueError:
        return False
