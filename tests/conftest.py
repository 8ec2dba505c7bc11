"""What holds for all tests."""

from __future__ import annotations

from hypothesis import settings

# The first example of a process reads tables and compiles patterns: on a busy machine no deadline holds.
settings.register_profile("cardsmith", deadline=None)
settings.load_profile("cardsmith")
