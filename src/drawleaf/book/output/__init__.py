"""What is written: HTML, PDF, plan.json, CSV."""
