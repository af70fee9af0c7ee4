"""Weather reports made broken: groups lost, doubled, out of place, garbled, endless, with characters that act."""

from random import Random

from tests.hostile.words import ACTING, BREAKS, SUBTLE

GROUPS = (
    "METAR", "SPECI", "COR", "XQTH", "041820Z", "AUTO", "NIL", "07008KT", "VRB02KT", "00000KT", "07008G22KT", "///08KT",
    "250V310", "24008MPS", "P99KT", "6000", "9999", "0000", "////", "CAVOK", "10SM", "M1/4SM", "1 1/2SM", "1400SW",
    "R12/0600", "R12L/P2000N", "R12/M0050V0400D", "-RA", "+TSRA", "FZFG", "VCSH", "NSW", "BKN015", "OVC002CB", "FEW///",
    "//////CB", "SCT/////", "VV001", "VV///", "NSC", "NCD", "SKC", "13/11", "M25/M28", "M00/M00", "XX/XX", "13/",
    "Q1009", "Q////", "A2992", "QNH1013HPA", "RETS", "WS R12", "NOSIG", "BECMG", "TEMPO", "RMK", "SLP134", "T01330111",
    "=", "$",
)  # fmt: skip
"""Groups of a METAR, and what stations send instead of them; from memory."""
_GOOD = "METAR XQTH 041820Z 07008KT 6000 -RA BKN015 13/11 Q1009"


def hostile_report(random: Random) -> str:
    groups = _GOOD.split() if random.random() < 0.6 else random.choices(GROUPS, k=random.randrange(40))
    for _ in range(random.randrange(4)):
        at = random.randrange(len(groups) + 1)
        match random.randrange(4):
            case 0:
                groups[at : at + 1] = []
            case 1:
                groups.insert(at, random.choice(GROUPS))
            case 2:
                groups[at : at + 1] = groups[at : at + 1] * random.choice((2, 3, 900))
            case _:
                groups[at : at + 1] = [_garbled(random, group) for group in groups[at : at + 1]]
    return random.choice((" ", " ", "  ", "\t", "\n", "")).join(groups)


def _garbled(random: Random, group: str) -> str:
    at = random.randrange(len(group) + 1)
    odd = random.choice((*ACTING, *SUBTLE, *BREAKS, *"0123456789/-+VRQZ=\u0661\u00b2\u00e9", "9" * 400))
    return group[:at] + odd + group[at + random.randrange(3) :]
