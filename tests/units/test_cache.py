"""What is kept between runs can't go stale, and a bad cache is no fault."""

import dataclasses
import io
import pickle

import pytest

from survey import cache, resources
from survey.errors import UserError
from survey.rulebook.book import _Finder, load_book
from survey.rulebook.rules import Rule

RULE = """\
rule DIG-1 pit that is too deep
  for each pier
  when pit depth is more than 5 ft
  then stop
  say Pit {pier} is deep.
  do Hold its sides.
  who crew
  from common practice
  release nobody
  case pit depth 6 ft gives stop
"""

OWN = """\
question loose dog
  for    the site
  kind   yes or no
  prompt Is there a loose dog?
table least distance
  by   loose dog
  row  yes gives 10 ft
  row  no gives 2 ft
  from common practice
rule OWN-1 dog near a deep pit
  for     each pier and other pier
  when    loose dog is yes and clearance between pits is less than least distance
          and pit depth of other pier is more than 2 times pit depth of this pier
  then    stop
  say     A dog near {pier} and {other pier}.
  do      Tie it up.
  who     customer
  from    common practice
  release nobody
  case    loose dog yes gives ask
"""


@pytest.fixture
def kept(tmp_path, monkeypatch):
    monkeypatch.setattr(cache, "_folder", lambda: tmp_path / "kept")
    return tmp_path / "kept"


@pytest.fixture
def rules(tmp_path, monkeypatch):
    """A small book that stands for the shipped one."""
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules" / "pits.rules").write_text(RULE, "utf-8")
    monkeypatch.setattr(resources, "folder", lambda name: tmp_path / "rules")
    return tmp_path / "rules"


def test_a_kept_book_is_the_book_that_was_read(kept):
    read = load_book()
    assert [file.name[:5] for file in kept.iterdir()] == ["book-"]
    again = load_book()
    assert again is not read
    assert again.vocabulary.words == read.vocabulary.words  # a vocabulary is equal to itself alone
    assert dataclasses.replace(again, vocabulary=read.vocabulary) == read


def test_any_change_of_a_rules_file_is_seen(kept, rules):
    before = load_book()
    (rules / "pits.rules").write_text(RULE.replace("5 ft", "4 ft"), "utf-8")
    after = load_book()
    assert before.fingerprint != after.fingerprint
    assert before.levels[0][0].condition.operand == 60000
    assert after.levels[0][0].condition.operand == 48000


def test_another_program_reads_the_book_again(kept, rules, monkeypatch):
    load_book()
    monkeypatch.setattr(cache, "program_fingerprint", lambda: "another version")
    load_book()
    assert len(list(kept.iterdir())) == 2


@pytest.mark.parametrize("damage", [b"", b"junk", pickle.dumps(print), pickle.dumps({"a": 1})])
def test_a_damaged_cache_is_read_over(kept, rules, damage):
    read = load_book()
    (file,) = kept.iterdir()
    file.write_bytes(damage)
    assert load_book() == read
    cache.write(file.name, damage)  # whole, but no rule book
    assert load_book() == read


@pytest.mark.parametrize(
    ("module", "name"),
    [("os", "system"), ("survey.rulebook.rules", "dataclass"), ("survey.rulebook.rules", "re")],
)
def test_a_kept_book_can_name_nothing_but_classes_of_a_book(module, name):
    finder = _Finder(io.BytesIO())
    assert finder.find_class("survey.rulebook.rules", "Rule") is Rule
    with pytest.raises(pickle.UnpicklingError):
        finder.find_class(module, name)


def test_a_flipped_bit_anywhere_is_noticed(kept):
    cache.write("thing", bytes(range(64)))
    (file,) = kept.iterdir()
    whole = file.read_bytes()
    assert cache.read("thing") == bytes(range(64))
    for place in range(len(whole)):
        damaged = bytearray(whole)
        damaged[place] ^= 1
        file.write_bytes(bytes(damaged))
        assert cache.read("thing") is None


def test_a_cache_that_can_not_be_written_is_no_fault(tmp_path, rules, monkeypatch):
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setattr(cache, "_folder", lambda: tmp_path / "file" / "below")
    assert load_book().levels


def test_only_so_much_is_kept(kept):
    for number in range(40):
        cache.write(f"thing-{number}", b"x")
    assert len(list(kept.iterdir())) == 24


def test_a_firm_s_own_book_is_kept_whole(kept, tmp_path):
    firm = tmp_path / "firm"
    firm.mkdir()
    (firm / "own.rules").write_text(OWN, "utf-8")
    read = load_book(firm)
    again = load_book(firm)
    assert [w.name for w in again.vocabulary.words] == [w.name for w in read.vocabulary.words]
    assert again.vocabulary["loose dog"] == read.vocabulary["loose dog"]
    assert (again.levels, again.tables, again.changes) == (read.levels, read.tables, read.changes)
    assert len(list(kept.iterdir())) == 2  # the shipped book, and the two together
    assert load_book().fingerprint != read.fingerprint


def test_a_folder_without_rules_says_so(tmp_path):
    with pytest.raises(UserError, match="no rules here"):
        load_book(tmp_path)


def test_a_rules_file_with_a_second_ending_is_not_passed_over(kept, rules):
    (rules / "more.rules.txt").write_text(RULE, "utf-8")
    with pytest.raises(UserError, match=r"more.rules.txt would not be read"):
        load_book()


def test_a_rules_file_that_is_not_text_says_so(kept, rules):
    (rules / "bad.rules").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UserError, match="not plain UTF-8 text"):
        load_book()
