"""What is read: days and words, stamps and merging, and records made into ground, deeds and batches."""
