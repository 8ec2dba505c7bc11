"""The bench: trials, tastings and teardowns, and what can be learnt from them. Files in, values out.

It stands beside the flow of a card: it reads with the recipe's reader and is read by `check.records.lineage`.
"""
