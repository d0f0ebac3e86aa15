"""What is stored: the database, its tables, their migrations, and the shop's settings."""
