"""Heat: ovens, hobs, thermometers, and how hot food gets inside."""
