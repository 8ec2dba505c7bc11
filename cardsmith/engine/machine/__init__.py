"""The machine that a build runs on: what it must have, its processes, the folder ``build/``."""
