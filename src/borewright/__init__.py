"""Borewright: from a survey of bought-in keywork to a printed woodwind that plays in tune."""
