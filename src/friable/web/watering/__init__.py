"""Watering: one pot through a watering and the days after it, choices side by side, a pot weighed twice."""
