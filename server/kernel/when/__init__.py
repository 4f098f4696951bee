"""When: the days of each job, passed forward and back, by gaps and heat. Knows no batch."""
