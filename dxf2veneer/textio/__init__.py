"""Text and files on their way in and out: code pages, escaping,
files that appear whole or not at all.
"""
