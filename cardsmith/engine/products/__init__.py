"""What is made of one recipe: card, press file, proof, pack, portion."""
