"""Figures by the derived word that they answer."""

from __future__ import annotations

from survey.engineering.working import Quantity

Named = dict[str, Quantity]
