"""Writers: they render a takeoff and compute nothing. Each kind of output has its room.

    workbook/     the spreadsheet, its sums live formulas
    overlay/      the user's drawing with the takeoff drawn on layers of our own (DXF)
    elevation/    the picture of one elevation (SVG), by itself and on the report's page
    report/       the page that holds everything (HTML), and the same on paper (PDF)
    result/       everything as JSON, for other programs
    csv_lines.py  the order's lines as CSV

What several of them share:

    files.py      files appear whole or not at all, and are known again by a seal
    words.py      what is said of pieces, units, openings and places
    texts.py      texts placed so that they don't cover each other; sizes.py how large they are
    spans.py      stretches of a piece's outline
    markup.py     markup of pages and pictures, every text of a drawing escaped
"""
