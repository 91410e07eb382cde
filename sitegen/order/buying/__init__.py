"""How `order.buy` finds the least cost: sets of suppliers are tried, and what that leaves open is solved."""
