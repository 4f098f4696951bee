"""What is said: a job as plain data, and what was done today."""
