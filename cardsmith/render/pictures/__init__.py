"""Pictures beside a recipe: looked over, refused with a reason or made ready."""
