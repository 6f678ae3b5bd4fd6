"""What is bought: hardware, consumables, finish. Hands out the shopping list."""
