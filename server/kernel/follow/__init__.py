"""What follows: the open steps, standing jobs, watches, jobs by hand and spares that the records call for."""
