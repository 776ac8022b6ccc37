"""What is kept: materials, mixes, containers, jobs, batches and their history."""
