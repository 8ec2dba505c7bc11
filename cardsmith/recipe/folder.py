"""A recipe's folder is its name, and a part of its page's address."""

from __future__ import annotations

from cardsmith.regex import regex

NAME = regex(r"(?=.{1,100}$)[a-z0-9]+(?:-[a-z0-9]+)*")
