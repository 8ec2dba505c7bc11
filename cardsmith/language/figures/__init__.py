"""Figures as they are written: numbers, words of units and bounds, amounts, sizes, heat, times of day."""
