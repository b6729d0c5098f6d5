"""A tree's value in three exact arithmetics: balls, the exact field, expansions at a point. What it finds is a fact, never a verdict."""
