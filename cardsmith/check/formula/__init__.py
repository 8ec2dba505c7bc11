"""Proportions by kind: ratios, leavening and its chemistry, slips of magnitude, batches."""
