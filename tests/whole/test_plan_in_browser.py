"""The plan drawing in a real browser: as wide as told, no text on another, and nothing runs."""

import json
import random
import re
from urllib.parse import unquote

import pytest

from survey.assessment import assess
from survey.drawings.plan import plan_drawing
from survey.resources import folder
from survey.rulebook.book import load_book
from tests.demo_surveys import DEMO, survey_of
from tests.drawn import judged_quickly
from tests.units.drawings.test_plan import HOSTILE, SOUTH, crowded
from tests.units.engineering.sites import survey
from tests.whole.test_sheet_in_browser import CHROMIUM, browse

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="chromium is not installed")

PROBE = """<script>
const found = [];
for (const drawing of document.querySelectorAll("svg.drawing")) {
  const edge = drawing.getBoundingClientRect();
  const texts = [...drawing.querySelectorAll("text")];
  const boxes = texts.map(text => text.getBoundingClientRect());
  for (let i = 0; i < texts.length; i++) {
    const a = boxes[i];
    if (a.left < edge.left - 1 || a.right > edge.right + 1)
      found.push(["cut", texts[i].textContent]);
    for (let j = i + 1; j < texts.length; j++) {
      const b = boxes[j];
      // Half a pixel: what a browser rounds
      if (a.left < b.right - .5 && b.left < a.right - .5 && a.top < b.bottom - .5
          && b.top < a.bottom - .5) found.push([texts[i].textContent, texts[j].textContent]);
    }
  }
}
document.title = "told:" + encodeURIComponent(JSON.stringify(
  [document.querySelectorAll("svg.drawing").length, found]));
</script>"""


def test_no_text_stands_on_another_in_the_browser(tmp_path):
    made = [
        *(assess(survey_of(make(), name), (), load_book()) for name, make in DEMO.items()),
        judged_quickly(crowded(random.Random(1), 60)),
        judged_quickly(
            survey(
                site=SOUTH, piers={name: {"station": 4 + 4 * i} for i, name in enumerate(HOSTILE)}
            )
        ),
    ]
    style = (folder("forms") / "drawings.css").read_text("utf-8")
    drawings = "".join(plan_drawing(one) for one in made)
    page = f'<!DOCTYPE html><meta charset="utf-8"><style>{style}</style>{drawings}{PROBE}'
    dom = browse(tmp_path, page, "--window-size=1400,900", "--dump-dom")
    told = re.search(r"told:([^<]*)<", dom)
    assert told is not None
    number, found = json.loads(unquote(told[1]))
    assert number == len(made)
    assert found == []
