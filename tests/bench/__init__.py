"""The benchmark, run by hand: `python -m tests.bench`. Every figure stands beside a floor measured in the same run."""
