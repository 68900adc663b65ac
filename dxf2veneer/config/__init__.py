"""Settings of a job, a product, goods and bid: files that describe themselves,
checked as they are read.
"""
