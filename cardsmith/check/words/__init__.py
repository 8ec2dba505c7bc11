"""What people read: titles, pictures, claims, references, house style."""
