"""What other parts sound with a sonority, and how they beat."""
