"""The fixed words of the crew page, in English and in Spanish as it is spoken on sites here.

``rules/README.md`` has the words that the rules' Spanish keeps to; these keep to them too. What it
says of dangers rests on what every sheet says (``_advice.CAUTIONS``) and on 29 CFR 1926.651(k).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from survey.assessment import Verdict


@dataclass(frozen=True, slots=True)
class CrewWords:
    """Every fixed text of one side; ``{}`` is filled in.

    Args:
        language: as HTML wants it.
        verdicts: the verdict in a word or two.
        start: what GO and GO WITH CONDITIONS mean in plain words.
        topics: what the codes of the rules are about; empty where the rules' names are used.
        people: who acts, by the English word of the rules.
    """

    language: str
    kind: str
    to: str
    not_known: str
    no_name: str
    verdicts: Mapping[Verdict, str]
    start: Mapping[Verdict, str]
    nobody_digs: str
    stop_and_call: str
    address: str
    days: str
    one_day_to_another: str
    only_first_day: str
    competent_person: str
    emergency: str
    write_here: str
    order: str
    round: str
    first: str
    then: str
    after_that: str
    one_at_a_time: str
    rounds_wait: str
    single_waits: str
    fits_no_round: str
    no_order: str
    spacing: str
    neighbours_open: str
    most_open: str
    spoil: str
    ladder: str
    kept_back: str
    at: str
    pits: tuple[str, str, str, str, str, str]
    deep: str
    floor: str
    slope_not_known: str
    no_seat: str
    every: str
    conditions: str
    done: str
    initials: str
    what_to_do: str
    where: str
    no_conditions: str
    same_at: str
    keep_to: str
    released: str
    in_full: str
    seats: str
    look_out: str
    seat_fails: str
    get_out: str
    moved: str
    moved_not_known: str
    get_out_if: tuple[str, ...]
    keep_in_mind_title: str
    keep_in_mind: tuple[str, ...]
    told: str
    sign: tuple[str, str, str]
    why: str
    acts: str
    what: str
    disagreement: str
    cells: str
    engineer: str
    answers: str
    unclear: str
    clash: str
    no_pier: str
    no_first_day: str
    more: str
    piers_by_verdict: str
    whole_site: str
    subjects: Mapping[str, str]
    people: Mapping[str, str]
    topics: Mapping[str, str]


ENGLISH = CrewWords(
    language="en",
    kind="Crew page: hang it up at the pits",
    to="to",
    not_known="not known",
    no_name="no name given",
    verdicts={verdict: verdict.value for verdict in Verdict},
    start={
        Verdict.GO: "Work may start on the days below.",
        Verdict.GO_WITH_CONDITIONS: (
            "Work may start on the days below, once every box is ticked and initialled."
        ),
    },
    nobody_digs="NOBODY DIGS",
    stop_and_call="Do not start. Stop, and call the office.",
    address="Address",
    days="Crew on site",
    one_day_to_another="{} to {}",
    only_first_day="{}; last day not known",
    competent_person="Competent person",
    emergency="Emergency",
    write_here="write it here before work",
    order="Which pits now, which next",
    round="Round {}",
    first="now",
    then="then",
    after_that="After that, round by round",
    one_at_a_time="One pit at a time, in this order",
    rounds_wait=(
        "Only the pits of one round are open together. The next waits until they are made good "
        "and filled."
    ),
    single_waits="The next waits until the one before is made good and filled.",
    fits_no_round="In no round; ask the engineer first",
    no_order="No order was worked out: ask before a second pit is opened.",
    spacing="Open pits at least {} apart.",
    neighbours_open="Neighbouring pits may be open together.",
    most_open="Open at once, at most: {}.",
    spoil="Spoil at least {} from the edge",
    ladder="Ladder, ramp or steps within {} of everyone in the pit",
    kept_back="Vehicles, machines and loads stay back from each pit by its depth.",
    at="at",
    pits=("Pits", "Round", "Deep", "Floor", "Sides", "Seat"),
    deep="depth not known",
    floor="{} x {}",
    slope_not_known="slope not known",
    no_seat="none: ask",
    every="every pit",
    conditions="Tick and initial each before the pit is opened",
    done="Done",
    initials="Initials",
    what_to_do="What to do",
    where="Where",
    no_conditions="No condition to tick.",
    same_at="The same at {}.",
    keep_to="Keep to this:",
    released="released by {} until {}",
    in_full="Each in full on the go/no-go sheet.",
    seats="How the footing is taken up",
    look_out="Look out:",
    seat_fails="If it can't be made so: stop, and call the office.",
    get_out="Stop and get out if",
    moved="the wall moves {} or more: pressure off, call the engineer",
    moved_not_known=(
        "the wall moves: how far it may is not known; have that set before the first drive"
    ),
    get_out_if=(
        "the sides show signs of cave-in",
        "the ground is worse or wetter than the survey says",
        "you find anything that the survey does not show",
    ),
    keep_in_mind_title="Every day",
    keep_in_mind=(
        "The competent person inspects before work on each day and after rain.",
        "The evening before: look again at forecast, frost, marks on the ground and hoses.",
        "Where a local rule is stricter, it holds. This page knows only what the survey says.",
    ),
    told="The crew: I was told all of this in a language that I understand",
    sign=("Name", "Signature", "Day"),
    why="Why, and who must act",
    acts="Who acts",
    what="What is wrong",
    disagreement="The site was judged twice and the answers differ. Nothing on this page holds.",
    cells="Cells of the survey to put right: {}.",
    engineer="To decide first:",
    answers="Answers that are missing: {}.",
    unclear="To clear up:",
    clash="No day fits:",
    no_pier="The survey lists no pier location.",
    no_first_day="The crew's first day is not known.",
    more="And {} more, on the go/no-go sheet.",
    piers_by_verdict="Pits by verdict",
    whole_site="whole site",
    subjects={"wall": "wall", "utility": "utility", "neighbour": "neighbour",
              "soil layer": "soil layer"},
    people={},
    topics={},
)  # fmt: skip

SPANISH = CrewWords(
    language="es",
    kind="Hoja de la cuadrilla: cuélguela junto a los pozos",
    to="a",
    not_known="no se sabe",
    no_name="sin nombre",
    verdicts={
        Verdict.GO: "ADELANTE",
        Verdict.GO_WITH_CONDITIONS: "ADELANTE, CON CONDICIONES",
        Verdict.HOLD: "EN ESPERA",
        Verdict.ENGINEER_REVIEW: "FALTA EL INGENIERO",
        Verdict.NO_GO: "ALTO",
    },
    start={
        Verdict.GO: "Se puede empezar en los días de abajo.",
        Verdict.GO_WITH_CONDITIONS: (
            "Se puede empezar en los días de abajo, cuando cada casilla tenga su marca y sus "
            "iniciales."
        ),
    },
    nobody_digs="NADIE EXCAVA",
    stop_and_call="No empiece. Pare y llame a la oficina.",
    address="Dirección",
    days="Cuadrilla en la obra",
    one_day_to_another="{} al {}",
    only_first_day="{}; no se sabe el último día",
    competent_person="Persona competente",
    emergency="Emergencia",
    write_here="anótelo aquí antes de empezar",
    order="Qué pozos ahora y cuáles después",
    round="Ronda {}",
    first="ahora",
    then="después",
    after_that="Luego, ronda por ronda",
    one_at_a_time="Un pozo a la vez, en este orden",
    rounds_wait=(
        "Solo los pozos de una ronda están abiertos al mismo tiempo. La siguiente espera hasta "
        "que queden terminados y rellenos."
    ),
    single_waits="El siguiente espera hasta que el de antes quede terminado y relleno.",
    fits_no_round="En ninguna ronda; pregunte primero al ingeniero",
    no_order="No hay orden calculado: pregunte antes de abrir un segundo pozo.",
    spacing="Entre pozos abiertos, por lo menos {}.",
    neighbours_open="Los pozos vecinos pueden estar abiertos al mismo tiempo.",
    most_open="Abiertos al mismo tiempo, cuando más: {}.",
    spoil="Tierra excavada a {} del borde, por lo menos",
    ladder="Escalera de mano, rampa o escalones a no más de {} de cada persona en el pozo",
    kept_back=(
        "Vehículos, máquinas y cargas se quedan apartados de cada pozo, tanto como es de hondo."
    ),
    at="en",
    pits=("Pozos", "Ronda", "Hondo", "Fondo", "Paredes", "Soporte"),
    deep="no se sabe",
    floor="{} x {}",
    slope_not_known="no se sabe el talud",
    no_seat="ninguno: pregunte",
    every="todos los pozos",
    conditions="Marque cada casilla y ponga sus iniciales antes de abrir el pozo",
    done="Hecho",
    initials="Iniciales",
    what_to_do="Qué hacer",
    where="Dónde",
    no_conditions="No hay condiciones que marcar.",
    same_at="Lo mismo en {}.",
    keep_to="Cumpla con esto:",
    released="lo liberó {}, hasta {}",
    in_full="Cada una completa en la hoja de la oficina.",
    seats="Cómo se apoya la zapata",
    look_out="Cuidado:",
    seat_fails="Si no se puede hacer así: pare y llame a la oficina.",
    get_out="Pare y salga si",
    moved="el muro se mueve {} o más: quite la presión y llame al ingeniero",
    moved_not_known=(
        "el muro se mueve: no se sabe cuánto puede moverse; pida que se fije antes del primer "
        "hincado"
    ),
    get_out_if=(
        "las paredes muestran señales de derrumbe",
        "el suelo es peor o está más mojado de lo que dice la revisión de la obra",
        "encuentra algo que la revisión de la obra no muestra",
    ),
    keep_in_mind_title="Todos los días",
    keep_in_mind=(
        "La persona competente revisa cada día antes del trabajo y después de la lluvia.",
        "La tarde anterior: mire otra vez el pronóstico, la helada, las marcas en el suelo y las "
        "mangueras.",
        "Donde una regla local es más estricta, esa vale. Esta hoja solo sabe lo que dice la "
        "revisión de la obra.",
    ),
    told="La cuadrilla: me explicaron todo esto en un idioma que entiendo",
    sign=("Nombre", "Firma", "Día"),
    why="Por qué, y quién tiene que actuar",
    acts="Quién actúa",
    what="Qué está mal",
    disagreement=(
        "La obra se juzgó dos veces y las respuestas no son iguales. Nada de esta hoja vale."
    ),
    cells="Celdas de la revisión que hay que corregir: {}.",
    engineer="Tiene que decidir primero sobre:",
    answers="Respuestas que faltan: {}.",
    unclear="Hay que aclarar:",
    clash="Ningún día alcanza: la oficina tiene que cambiar las fechas.",
    no_pier="La revisión no tiene ningún pilote.",
    no_first_day="No se sabe el primer día de la cuadrilla.",
    more="Y {} más, en la hoja de la oficina.",
    piers_by_verdict="Pozos, uno por uno",
    whole_site="toda la obra",
    subjects={"wall": "muro", "utility": "línea", "neighbour": "vecino",
              "soil layer": "capa de suelo"},
    people={
        "crew": "cuadrilla", "competent person": "persona competente", "engineer": "ingeniero",
        "surveyor": "quien revisa la obra", "scheduler": "quien programa la obra",
        "safety lead": "encargado de seguridad", "customer": "cliente", "office": "oficina",
        "licensed engineer": "ingeniero con licencia",
    },
    topics={
        "ACCESS": "entrada, aire y trabajo adentro", "CREW": "cuadrilla",
        "DIG": "pozos y sus paredes", "FOOT": "zapata y muro", "GEAR": "equipo de hincado",
        "LINE": "líneas", "NEAR": "lo que está al lado", "PERMIT": "permisos",
        "PIER": "pilotes y su carga", "SEAT": "soportes", "SOIL": "suelo",
        "SURVEY": "revisión de la obra", "WATCH": "movimiento del edificio", "WATER": "agua",
    },
)  # fmt: skip
