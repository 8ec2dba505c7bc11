"""Lines of a draft to what each is: ingredient, step, yield, a note to the editor."""
