"""The file ``trials.yaml``: read, written, and made a recipe of."""
