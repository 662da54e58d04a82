"""Bondwright: worked procedure cards for fixing hardware to wooden and wood-cored boats."""
