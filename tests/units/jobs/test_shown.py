"""The bar of a long run: on a terminal only, and never in the way of what it counts."""

import io
import sys

import pytest
import typer

from survey.cli_jobs import shown


class Terminal(io.StringIO):
    """What takes messages as a terminal does."""

    def isatty(self):
        return True


def test_a_terminal_shows_how_far_it_is(monkeypatch):
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    monkeypatch.setenv("TERM", "xterm")
    assert list(shown(iter("abc"), 3)) == ["a", "b", "c"]
    assert "3/3" in terminal.getvalue()


def test_elsewhere_not_a_letter_is_printed(monkeypatch):
    file = io.StringIO()
    monkeypatch.setattr(sys, "stderr", file)
    assert list(shown(iter("abc"), 3)) == ["a", "b", "c"]
    assert not file.getvalue()


@pytest.mark.parametrize("stream", [io.StringIO, Terminal])
def test_items_are_passed_on_one_by_one(monkeypatch, stream):
    monkeypatch.setattr(sys, "stderr", stream())
    taken = []

    def items():
        for item in "ab":
            taken.append(item)
            yield item

    passing = shown(items(), 2)
    assert next(passing) == "a"
    assert taken == ["a"]
    assert list(passing) == ["b"]


@pytest.mark.parametrize("stream", [io.StringIO, Terminal])
def test_a_stop_by_hand_is_told_in_a_line(monkeypatch, stream):
    def items():
        yield from "ab"
        raise KeyboardInterrupt

    messages = stream()
    monkeypatch.setattr(sys, "stderr", messages)
    with pytest.raises(typer.Exit) as ended:
        list(shown(items(), 5))
    assert ended.value.exit_code == 130
    assert "Stopped at 2 of 5." in messages.getvalue()
