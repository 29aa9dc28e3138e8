"""Invented people: names of many origins, long ones, accents, other scripts.

Each name also has a plain Latin spelling, which is what a logger's header can hold.
The names are put together by chance; nobody real is meant.
"""

from dataclasses import dataclass
from itertools import product
from typing import TypeVar

import numpy as np

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Somebody invented."""

    name: str
    latin: str
    """The same in ASCII."""
    country: str
    """Invented land: a code of the range that ISO 3166 keeps free for private use."""


@dataclass(frozen=True, slots=True)
class _Origin:
    country: str
    given: str
    family: str
    order: str = "given family"


# One word is `name` or `name=latin spelling`; an underscore stands for a space.
_ORIGINS = (
    _Origin(
        "XAO",
        "Amélie=Amelie Théodule=Theodule Solène=Solene Anaëlle=Anaelle Corentin",
        "Brézillac=Brezillac d'Aubérac=d'Auberac Tourmignon Le_Quellennoc Vauzelin",
    ),
    _Origin(
        "XBE",
        "María_del_Carmen=Maria_del_Carmen Íñigo=Inigo Nuño=Nuno Begoña=Begona Itziar",
        "Ordoñana-Villafría_de_la_Cuesta=Ordonana-Villafria_de_la_Cuesta "
        "Peñarrocha=Penarrocha Urigoitia Zubelzaga Quintanabal",
    ),
    _Origin(
        "XCA",
        "Jörg-Åke=Joerg-Aake Þórdís=Thordis Søren=Soeren Ylva Håvard=Haavard",
        "Grønnvik=Groennvik Öhrnstad=Oehrnstad Kvamsdalen Hjältvind=Hjaeltvind "
        "Skarphédinsdóttir=Skarphedinsdottir",
    ),
    _Origin(
        "XDU",
        "Zbyněk=Zbynek Bożydar=Bozydar Ľudmila=Ludmila Kamilė=Kamile Rasťo=Rasto",
        "Hřebíčkovský=Hrebickovsky Szczygłowska=Szczyglowska Żdżarski=Zdzarski "
        "Vaičkūnas=Vaickunas Mrázovec=Mrazovec",
    ),
    _Origin(
        "XEL",
        "سُهيل=Suhayl ريحانة=Rayhana غسّان=Ghassan ليانة=Liyana",
        "الوهّابيّ=al-Wahhabiyy النجمراني=an-Najmarani بن_يزقان=Bin_Yazqan "
        "الزعفرانيّ=az-Zaafaraniyy",
    ),
    _Origin(
        "XFI",
        "נועה=Noa עמיחי=Amichai תהילה=Tehila",
        "בר־גפן=Bar-Gefen אלמגורי=Almagori שקדיאל=Shkediel",
    ),
    _Origin(
        "XGO",
        "Nokuthula Sibongakonke Lwandile Adaeze Chukwuemeka",
        "Mthimkhulweni Ndlangamandlana Okonkwuru Ezeanyagu Babalwandla",
    ),
    _Origin(
        "XHA",
        "千鶴=Chizuru 蒼介=Sosuke 朋果=Tomoka",
        "風見坂=Kazamizaka 雲野井=Kumonoi 綿貫沢=Watanukizawa",
        order="family given",
    ),
    _Origin(
        "XIM",
        "Thị_Ngọc_Lan=Thi_Ngoc_Lan Văn_Khải=Van_Khai Bảo_Trâm=Bao_Tram",
        "Đặng-Lê=Dang-Le Nguyễn-Hoàng=Nguyen-Hoang Phùng=Phung",
        order="family given",
    ),
    _Origin(
        "XJO",
        "Aparajita Devnarayan Lakshmipriya Ishwarya",
        "Chattergaonkar Venkatasubbaraman Thiruvallanathan Bhandarkot",
    ),
    _Origin(
        "XKU",
        "Ευανθία=Evanthia Λεωνίδας=Leonidas Πολυξένη=Polyxeni",
        "Καραμπουρνιώτης=Karampourniotis Αλμυροπούλου=Almyropoulou Θαλασσέλης=Thalasselis",
    ),
    _Origin(
        "XNE",
        "Богдана=Bohdana Тарас=Taras Ярина=Yaryna Устим=Ustym",
        "Вітроградська=Vitrohradska Хмаренко-Степняк=Khmarenko-Stepniak "
        "Полумискович=Polumyskovych",
    ),
    _Origin(
        "XLY",
        "Bo Eilidh Gruffudd Siobhán=Siobhan Oisín=Oisin",
        "Ó_Maoldúchna=O_Maolduchna Pennerfyn MacIlwhannoch Thistlewick-Hale Ek",
    ),
    _Origin(
        "XMA",
        "Keanuenue Tāwhiri=Tawhiri Leilehua Rangimārie=Rangimarie",
        "Kahananuiokalani Te_Rangihaeroa Whakamoemiti Kealohapauole",
    ),
)

_GRADES = ("sport", "sport", "sport", "novice", "masters")
_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entrant:
    """A pilot as entered in the roster."""

    number: int
    person: Person
    registration: str
    class_name: str
    logger: str


def people(count: int, rng: np.random.Generator) -> tuple[Person, ...]:
    """Draw so many different people, origins mixed evenly."""
    pools = [_shuffled(_pool(origin), rng) for origin in _ORIGINS]
    drawn: list[Person] = []
    turn = 0
    while len(drawn) < count:
        for pool in _shuffled(pools, rng):
            number, place = divmod(turn, len(pool))
            drawn.append(_numbered(pool[place], number))
        turn += 1
    return tuple(drawn[:count])


def roster(count: int, rng: np.random.Generator) -> tuple[Entrant, ...]:
    """Draw the entered pilots, numbered from 1."""
    letters = rng.integers(0, len(_LETTERS), (count, 3))
    grades = rng.integers(0, len(_GRADES), count)
    return tuple(
        Entrant(
            number=number,
            person=person,
            registration="Q9-" + "".join(_LETTERS[i] for i in letters[number - 1]),
            class_name=_GRADES[grades[number - 1]],
            logger=f"{1000 + 7 * number:04d}",
        )
        for number, person in enumerate(people(count, rng), start=1)
    )


def _pool(origin: _Origin) -> list[Person]:
    pairs = product(origin.given.split(), origin.family.split())
    return [_person(origin, given, family) for given, family in pairs]


def _person(origin: _Origin, given: str, family: str) -> Person:
    words = {"given": given.partition("="), "family": family.partition("=")}
    parts = [words[which] for which in origin.order.split()]
    return Person(
        name=" ".join(shown for shown, _, _ in parts).replace("_", " "),
        latin=" ".join(latin or shown for shown, _, latin in parts).replace("_", " "),
        country=origin.country,
    )


def _numbered(person: Person, generation: int) -> Person:
    """Return the person, or a namesake of a later generation in a huge field."""
    if generation == 0:
        return person
    mark = "I" * min(generation + 1, 3) + "+" * max(generation - 2, 0)
    return Person(
        name=f"{person.name} {mark}",
        latin=f"{person.latin} {mark}",
        country=person.country,
    )


def _shuffled(items: list[T], rng: np.random.Generator) -> list[T]:
    return [items[i] for i in rng.permutation(len(items))]
