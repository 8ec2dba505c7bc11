"""Words read: what each numeral of a text measures.

The examples of the modules are run; those that end in ``_in`` read what a text begins with, by
``tests/language/beginnings.py``.
"""
