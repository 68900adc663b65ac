"""Many drawings, each a job of its own: side by side, whole or not at all, and what is done is not done again.

Glossary:
    task     one drawing, and the files its takeoff is written to
    desk     a process that works on one task at a time
    row      what the table across drawings says of one drawing
    record   what is kept beside the outputs, so that a later run knows what is done
"""
