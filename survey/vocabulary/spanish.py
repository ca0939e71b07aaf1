"""The vocabulary in Spanish, as it is spoken on building sites in the US Southwest.

Read where it is written exactly (capitals and accents aside); `rules/README.md` has the words
that the crew's texts keep to. The choices of a question stand in the order of its English ones.
"""

from __future__ import annotations

import datetime as dt
import functools
import re
from collections.abc import Mapping
from types import MappingProxyType

from survey.vocabulary.kinds import Kind
from survey.vocabulary.places import STATES
from survey.vocabulary.states import DOES_NOT_APPLY, NOT_KNOWN, Missing
from survey.vocabulary.words import Word

STATES_IN_SPANISH: Mapping[Missing, str] = MappingProxyType(
    {NOT_KNOWN: "no se sabe", DOES_NOT_APPLY: "no aplica"}
)

# Spellings of the units, by the English spelling of the same unit.
UNITS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "in": ("pulgada", "pulgadas", "pulg", "plg"),
        "ft": ("pie", "pies"),
        "yd": ("yarda", "yardas"),
        "mm": ("milímetro", "milímetros", "milimetro", "milimetros"),
        "cm": ("centímetro", "centímetros", "centimetro", "centimetros"),
        "m": ("metro", "metros", "mts"),
        "lb": ("libra", "libras"),
        "lb/ft": ("lb/pie", "libras por pie"),
        "psf": ("lb/pie2", "libras por pie cuadrado"),
        "psi": ("lb/pulg2", "libras por pulgada cuadrada"),
        "%": ("por ciento",),
        "to 1": ("a 1",),
        "deg": ("grado", "grados"),
        "day": ("día", "días", "dia", "dias"),
        "week": ("semana", "semanas"),
        "min": ("minuto", "minutos"),
        "hour": ("hora", "horas"),
        "in2": ("pulg2", "pulgadas cuadradas"),
        "ft2": ("pie2", "pies2", "pies cuadrados"),
        "ft3": ("pie3", "pies3", "pies cúbicos", "pies cubicos"),
        "yd3": ("yardas cúbicas", "yardas cubicas"),
        "m3": ("metros cúbicos", "metros cubicos"),
        "gpm": ("galones por minuto",),
        "l/min": ("litros por minuto",),
        "l/s": ("litros por segundo",),
        "volt": ("voltio", "voltios"),
        "ppm": ("partes por millón", "partes por millon"),
    }
)

_CHOICES = {
    # site
    "state": " | ".join((*STATES, "fuera de los Estados Unidos")),
    "walls listed": "todo alrededor | solo los muros donde se trabaja",
    "first wall faces": "norte | noreste | este | sureste | sur | suroeste | oeste | noroeste",
    "water removal": "bomba vigilada por la persona competente | ninguna",
    "roof exposure": "totalmente expuesto | parcialmente expuesto | protegido del viento",
    "roof heating": "con calefacción | apenas arriba de cero | sin calefacción",
    "inside work": "ninguno | sótano | espacio bajo el piso",
    "confined space finding": "no es un espacio confinado | espacio confinado, sin permiso de "
    "entrada | espacio con permiso de entrada | no se ha revisado",
    "space hazards": "no se encontró ninguno | puede haber aire peligroso | alguien puede quedar "
    "sepultado o atrapado | otro peligro grave",
    "engine place": "sin motor | afuera, lejos de aberturas | afuera, junto a una abertura | "
    "adentro o en un pozo",
    "dust control": "no se corta ni se taladra concreto | agua o una cubierta en la herramienta | "
    "ninguno",
    "cutting tool": "taladro con cubierta y colector | sierra con agua | martillo cincelador",
    "building permit": "lo tenemos | no hace falta, según la oficina de construcción | solicitado "
    "| ninguno",
    "pier drawings": "firmados, en la obra | firmados, no están en la obra | ninguno",
    "work in public way": "ninguno | con permiso | sin permiso",
    "gas on the property": "ninguno | gas de la calle | propano de un tanque",
    "power to the building": "aérea | subterránea | ninguna",
    "pits dug with": "herramientas de mano | equipo de vacío | máquina",
    "frost": "no se espera | se esperan noches de helada | suelo congelado | suelo que se deshiela",
    "plumbing leak": "no se encontró ninguna | se sospecha | encontrada, sin reparar",
    "occupants": "nadie vive ahí | avisados y alejados | sin avisar",
    "machines beside pits": "ninguna se acerca | detenidas por barrera o vigía | nada las detiene",
    "hydraulic hoses": "revisadas, ninguna dañada | no revisadas | dañadas",
    "hot work": "ninguno | afuera, con vigía de fuego | afuera, sin vigía de fuego | adentro o en "
    "un pozo",
    "floor under equipment": "sobre el suelo | suspendido, revisado para la carga | suspendido, "
    "sin revisar",
    "sewage inside": "ninguna | excremento de animales | aguas negras",
    "asbestos": "nada que pueda tenerlo | ninguno, por prueba o registro | se sospecha | "
    "encontrado",
    "corrosion tests": "hechas | ninguna hecha",
    # wall
    "wall material": "concreto colado | bloque de concreto | ladrillo | madera | piedra en seco | "
    "piedra irregular",
    "wall cladding": "revestimiento ligero o estuco | chapa de ladrillo o piedra",
    "wall cracks": "ninguna | finas como un cabello | hasta 1/4 in | de más de 1/4 in o "
    "desplazadas",
    "mortar joints": "sanas | blandas o faltantes",
    "framing on wall": "sana | podrida, aplastada o suelta",
    "age of foundation": "28 días o más | menos de 28 días",
    "footing kind": "concreto | borde de losa engrosado | ladrillo o piedra | piedra irregular | "
    "no se encontró ninguna",
    "footing reinforcement": "se encontraron varillas | no se encontraron varillas",
    "bottom bar size": "núm. 3 | núm. 4 | núm. 5 | núm. 6 | núm. 7 | núm. 8",
    "bottom bar surface": "corrugada | lisa",
    "footing cracks": "ninguna | finas como un cabello | abiertas",
    "footing honeycomb": "ninguno | poco profundo | profundo o hueco",
    "cables in slab": "ninguno, por planos o detector | nadie revisó | se encontraron cables "
    "tensados",
    # pier
    "pit reached from": "afuera | sótano | espacio bajo el piso",
    "side protection": "ninguna | en talud | en escalones | apuntalamiento de madera | "
    "apuntalamiento hidráulico | caja de zanja",
    "foot of the slope": "el talud baja hasta el fondo | parte vertical sostenida | parte vertical "
    "sin sostener",
    "protection design": "diseño del ingeniero | datos del fabricante | tabla del apéndice",
    "protection covers": "todo el pozo | las paredes, extremos abiertos | una parte del pozo",
    "shoring timber": "roble mixto | abeto Douglas",
    "slope of ground at pit": "más tendido que 3H:1V | 3H:1V o más empinado",
    "over the boundary": "dentro de la propiedad | pasa el lindero, con acuerdo escrito | pasa el "
    "lindero, sin acuerdo",
    "lines through footing": "ninguna | sin servicio o desviadas | en servicio",
    "footing drain at pit": "ninguno | llevado a través del pozo | cortado",
    "opening above pit": "ninguna | de menos de 4 ft de ancho | de 4 ft o más de ancho",
    # utility
    "utility kind": "agua | drenaje sanitario | drenaje pluvial | teléfono o datos | riego | "
    "fosa séptica | vapor | electricidad | gas | propano | tanque de combustible o aceite | pozo "
    "de agua o cisterna | no identificada",
    "utility owner": "pública o de una compañía | privada",
    "owner's answer": "marcó la línea o no tiene ninguna | no puede decir el lugar exacto | "
    "sin respuesta",
    "locate marks": "claras | borrosas | desaparecidas | nunca se marcó",
    "located by": "descubierta | rastreada | señales en la superficie | solo registros",
    "how the cable lies": "directo en el suelo | en un tubo | dentro de concreto",
    # neighbour
    "neighbour kind": "casa | garaje o cobertizo | muro medianero | muro de contención | pavimento "
    "o acera | alberca | tanque | árbol | estructura ligera | otra estructura",
    # soil layer
    "soil group": "roca estable | roca inestable seca | suelo cementado | arcilla | arcilla limosa "
    "| arcilla arenosa | franco arcilloso | limo | franco limoso | franco arenoso | grava angular "
    "| grava | arena franca | arena | relleno",
    "strength test": "pulgar | penetrómetro o veleta | ambas",
    "thumb test": "se marca solo con gran esfuerzo | se marca con esfuerzo | se hunde fácilmente",
    "dip into pit": "sin capas | más tendido que 4H:1V | 4H:1V o más empinado",
    "unified soil group": "GW | GP | GM | GC | SW | SP | SM | SC | ML | CL | OL | MH | CH | "
    "OH | PT",
    "consistency": "dura | muy firme | firme | media | blanda | muy blanda",
    # release
    "releasing role": "persona competente | ingeniero con licencia",
}


# What is worked out or concluded, and stands in texts that the crew reads; nobody types it.
_NOT_ASKED = {
    "respirator for cutting": "ninguno | APF 10",
    "soil class": "roca estable | A | B | C",
    "layer soil class": "roca estable | A | B | C",
    "tested soil class": "roca estable | A | B | C",
    "soil class by log": "A | B | C",
    "cave-in protection": "no hace falta | hace falta",
    "confined space screening": "no es un espacio confinado | espacio confinado, sin permiso de "
    "entrada | espacio con permiso de entrada",
}


def choices_in_spanish(word: Word) -> Mapping[str, str]:
    """The Spanish of each choice of a shipped word; a firm's own questions have none.

    >>> from survey.vocabulary import VOCABULARY
    >>> choices_in_spanish(VOCABULARY["footing cracks"])["none"]
    'ninguna'
    """
    if word.kind is Kind.YES_NO:
        return _YES_NO
    return _choices(word.itself.name, word.choices)


_YES_NO: Mapping[str, str] = MappingProxyType({"yes": "sí", "no": "no"})


@functools.lru_cache(maxsize=512)
def _choices(name: str, choices: tuple[str, ...]) -> Mapping[str, str]:
    spanish = _CHOICES.get(name) or _NOT_ASKED.get(name)
    if spanish is None:
        return MappingProxyType({})
    parts = [part.strip() for part in spanish.split("|")]
    return MappingProxyType(dict(zip(choices, parts, strict=True)))


_DAYS = ("lun", "mar", "mié", "jue", "vie", "sáb", "dom")
_MONTHS = (
    "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic",
)  # fmt: skip


def day_in_spanish(day: dt.date) -> str:
    """A day as printed in Spanish.

    >>> day_in_spanish(dt.date(2026, 12, 1))
    'mar 01 dic 2026'
    """
    return f"{_DAYS[day.weekday()]} {day.day:02} {_MONTHS[day.month - 1]} {day.year}"


# The signs of units (ft, in, lb, psi) stay as they stand on tapes and gauges here.
_UNIT_WORDS = {
    "day": "día", "days": "días", "week": "semana", "weeks": "semanas", "hour": "hora",
    "hours": "horas", "deg": "grados", "to": "a",
}  # fmt: skip
_UNIT_WORD = re.compile(r"(?<=[\d\w]) (days?|weeks?|hours?|deg|to)\b")


def figure_in_spanish(figure: str) -> str:
    """A figure as printed, with the words of its unit in Spanish.

    >>> figure_in_spanish("21 days"), figure_in_spanish("3 ft 6 in")
    ('21 días', '3 ft 6 in')
    """
    return _UNIT_WORD.sub(lambda found: f" {_UNIT_WORDS[found[1]]}", figure)
