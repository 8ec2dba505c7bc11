"""A small recipe of which proofs are issued."""

RECIPE = """\
title: Rye thins
kind: cracker
headnote: Thin and dark.
yield: {makes: 40 crackers, serves: 8, piece: 7 g}
time: {active: 35 min, total: 1 h 40 min}
ingredients:
  - 200 g whole-grain rye flour
  - 4 g fine salt
  - 110 g water
  - 30 g olive oil
steps:
  - Heat the oven to 160 °C with a rack in the middle.
  - Mix the flour, salt, water and oil. Roll to 2 mm and score.
  - Bake for 25 to 30 minutes, until dry and crisp.
storage: Keeps two weeks in a tin.
"""
