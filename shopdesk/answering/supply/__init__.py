"""What of a yarn the customer would take: need, skeins, lots, price, tool, fabric, wishes."""
