"""Sentences about settings files and options."""

from dxf2veneer.wording.phrases import Sentence

SENTENCES: dict[str, Sentence] = {
    "wants-three-corners": "wants at least three corners X,Y with a space between them",
    # where a value came from
    "origin-default": "default",
    "origin-option": "option --{option}",
    "origin-file": "{file}",
    "origin-line": "{file}, line {line}",
    "origin-row": "{file}, row {row}",
    "origin-generic-product": "generic-panel.toml (ships with the tool)",
    "origin-program": "set by a program",
    "origin-drawing": "the drawing",
    "origin-search": "search for the best start",
    "origin-rule": "rule of this tool",
    # files that can't be read
    "file-missing": "{file}: there is no such file",
    "file-is-folder": "{file} is a folder; name a file",
    "settings-unreadable": "{file}: can't be read: {why}",
    "name-unusable": "{file}: no file can have this name: {why}",
    "wants-file-name": "wants the name of a file: {why}",
    "file-not-text": "{file}: can't be read as UTF-8 text ({error})",
    "file-not-toml": "{file}: not valid TOML: {reason}",
    "file-beyond-reading": (
        "{file}: a number in it has thousands of digits, or brackets nest thousands deep; "
        "write a new one with: dxf2veneer job new"
    ),
    # sections and keys
    "key-without-section": "{place}: {key} stands outside every [section]",
    "section-unknown": "{place}: there is no section [{section}]; {hint}",
    "setting-unknown": "{place}: {setting} is not a setting; {hint}",
    "setting-missing": "{place}: {setting} is missing",
    "setting-wrong": "{place}: {setting} = {written}: {why}; for example {like}",
    "option-wrong": "{option} = {written}: {why}; for example {like}",
    "option-unknown": "{key} is not a setting",
    "hint-did-you-mean": "did you mean {word}?",
    "hint-all": "there are: {words}",
    "hint-belongs-under": "it belongs under [{section}]",
    "deduction-twice": (
        "{place}: the rule {rule} has its own threshold, and {other} sets {key}; leave one of the "
        "two out"
    ),
    "clearance-most-below": (
        "{place}: courses.clearance_most = {most:g} is less than "
        "courses.clearance = {clearance:g}; raise it, or leave it out"
    ),
    "aim-contradicted": (
        "{place}: plan.aim = {word} stands for {key} = {wanted}, and {other} says {given}; leave "
        "one of the two out"
    ),
    "nothing-to-compare": (
        "{place}: plans are compared panel by panel, and by {other} none is laid out; leave one of "
        "the two out"
    ),
    "corner-panel-too-short": (
        "{place}: a corner panel of {length} (corner.length) gives no two pieces of {least} "
        "(laying.least_piece) with a saw cut of {kerf:fine} between them; these walls take corner "
        "pieces. Mend the product file, or leave the panels to the area with --no-plan"
    ),
    "bay-unknown": (
        "{place}: there is no bay corner {name:quoted}; tags and ids of those there are: {known}"
    ),
    "blend-unknown": (
        "{place}: there is no wall or color {name:quoted} to share out; those there are: {known}"
    ),
    # what a value should be
    "wants-text": "wants text in quotes",
    "wants-flag": "wants true or false",
    "wants-names": "wants a list of names",
    "wants-number": "wants a number",
    "wants-whole-number": "wants a whole number",
    "wants-at-least": "wants a value at least {low:g}",
    "wants-between": "wants a value from {low:g} to {high:g}",
    "wants-length": "wants a length",
    "wants-length-between": "wants a length from {low} to {high}",
    "wants-or-word": "{why}, or the word {word}",
    "wants-one-of": "wants one of {allowed}",
    "wants-one-of-nearest": "wants one of {allowed}; did you mean {word}?",
    "wants-name": "wants a text that is not blank",
    "wants-once": "wants each name once, and {name:quoted} stands twice",
    "wants-tables": "wants a list of tables in braces",
    "wants-color-name": "wants a name with a letter or a digit",
    "wants-color-once": "wants each color once, and {name} stands twice",
    "wants-fewer-colors": "wants at most {most} colors",
    "wants-whole-shares": "wants shares that come to 100 %, and these come to {sum:g} %",
    "wants-code-page": "wants the name of a code page",
    "wants-layer-signs": "wants letters, digits, - and _ only",
    "wants-leave": "wants WHAT=LENGTH with a length up to {most}, or WHAT=fixed",
    "wants-two-corners": "wants two corners that are apart both ways",
    "wants-numbers": "wants {count} numbers between commas",
    "wants-scale": "wants a scale",
    "wants-day": "wants a day, written 2026-03-02",
    "wants-reason": "wants a reason in table {number}",
    "wants-item-or-area": (
        "wants either item and quantity or area (with corners, where it has them) in table {number}"
    ),
    "wants-given-opening": "wants KIND WIDTH x HEIGHT at LEFT, SILL",
    "wants-sill": "wants the height of its sill above the base behind a comma",
    "wants-all-places": "wants a place for every opening of the wall, or spread for each",
    "wants-row-names": "wants a name of its own for each wall, and {name:quoted} is none",
    "wants-peak": (
        "wants a peak higher than the sides, and no cap under it, at the wall {name:quoted}"
    ),
    "clearances-differ": (
        "{place}: the courses of {walls:and} run together; give them one clearance"
    ),
    "wants-change": (
        "wants in table {number} what is different: barrier, clearance, phase, bid or product"
    ),
    "wants-product": (
        "wants product in table {number} beside {key}, which goes with a product's walls; for all "
        "walls set it in its own section of the job file"
    ),
    "wants-room": (
        "wants openings inside the wall, and {opening} of the wall {name:quoted} is not"
    ),
    "wants-room-beside": (
        "wants openings that don't overlap, and {opening} of the wall {name:quoted} is over another"
    ),
    "wants-room-spread": (
        "wants openings that fit side by side, and those of the wall {name:quoted} are wider "
        "than it"
    ),
    "given-opening": "{kind} {width} x {height}",
    "given-with-each": (
        "{place}: {key} is of one takeoff, and --each would give it to every drawing; leave one of "
        "the two out"
    ),
    "wall-name-taken": (
        "{place}: {name:quoted} is the name or id of another wall too; give this one another name"
    ),
    "wall-name-doubtful": (
        "{place}: {name:quoted} is the id of one wall and the name of another, {other}; "
        "write {other}, or the name of the first"
    ),
    "treatments-differ": (
        "{place}: treatments give the wall {name:quoted} more than one {what}; leave one"
    ),
    "treatment-of-none": ("{place}: no wall is on the {what} {name:quoted}; there are {known}"),
    "product-said-twice": (
        "{place}: treatments say different things of the product {product:quoted}; write what goes "
        "with it the same in each"
    ),
    "product-said-of-own": (
        "{place}: a treatment gives {keys:and} for {product:quoted}, which is the job's own "
        "product here, by product.file or --product; write that in the job's own sections, or "
        "give the job another product"
    ),
    "product-names-alike": (
        "{place}: two product files carry the name {name:quoted}; give each product a name of its "
        "own in its section [product]"
    ),
    "product-units-differ": (
        "{place}: products sold by feet and products sold by meters can't be in one job; take them "
        "off as two jobs"
    ),
    "product-parts-bay": (
        "{place}: the bay corner {corner:quoted} joins walls of two products, and its two sides "
        "are cut from one panel; lay both walls with one product, or mark the sides as ends"
    ),
    "products-with-colors": (
        "{place}: a job of several products can't divide a product into colors yet; leave out "
        "[blend] in their files, or take the walls off as jobs of their own"
    ),
    "crew-sheets-without-plan": (
        "--crew-sheets show every piece, and without a course plan there is none; leave out "
        "--no-plan (plan.panels = false in the job file), or leave out --crew-sheets"
    ),
    "site-before-without-plan": (
        "--site-before keeps the course plan of an earlier result, and without a course plan there "
        "is none to keep; leave out --no-plan (plan.panels = false in the job file), or leave out "
        "--site-before"
    ),
    "products-with-advice": (
        "{place}: courses of a job of several products can't be advised on yet; leave out the "
        "treatments that name a product, and advise on each product's walls with --product"
    ),
    "products-with-before": (
        "{place}: a job of several products can't keep the plan of an earlier result yet; leave "
        "out --site-before (site.before in the job file), or take the walls of each product off "
        "as a job of their own"
    ),
    "products-with-comparison": (
        "{place}: plans of a job of several products can't be compared; leave out compare, or take "
        "the walls of each product off as a job of their own"
    ),
    "treatment-unknown": "{place}: no wall is called {name:quoted}; walls: {known}",
    "table-key-unknown": "table {number} has an unknown key {key}; {hint}",
    "table-value-wrong": "{key} of table {number} {why}",
    "task-wants-quantity": "wants one of measure and quantity",
    "task-wants-unit": "wants a unit beside a quantity, and none beside a measure: {units}",
    "charge-wants-one-way": "wants one of amount, rate, percent and margin",
    "charge-wants-per": "wants rate and per together; per is one of {known}",
    "charge-is-markup": (
        "{percent:plain} per cent of costs is a markup; for {percent:plain} per cent of the price "
        "write margin = {percent:plain}, else name it by what it is"
    ),
    "charge-is-margin": (
        "{percent:plain} per cent of the price is a margin; for {percent:plain} per cent of costs "
        "write percent = {percent:plain}"
    ),
    "charge-margin-of-all": (
        "a margin is per cent of the whole price and takes no of, no least and no below"
    ),
    "charge-of-none-above": (
        "no line above it is of kind {kinds:or}; a line is taken of lines above it, so put that "
        "line first, or correct the kind"
    ),
    "charge-of-unused": "of goes with percent, or with below",
    "charge-margins-whole": "margins that stand together take the whole price or more",
    "table-key-missing": "table {number} has no {key}",
    "unit-unknown": "{text:quoted} is not a unit of length; use one of {units}",
    "area-unreadable": (
        "{text:quoted} is no area; write square feet or text such as 130 sq ft or 12 m2"
    ),
    "length-wanted": "a length is a number or text such as 4'-6 1/2\" or 203 mm",
    "length-unreadable": (
        "{text:quoted} is not a length; write it like 8, 8 1/2, 4'-6 1/2\" or 203 mm"
    ),
    "length-infinite": "{text} is not a finite length",
    "scale-unreadable": (
        '{text:quoted} is not a plotting scale; write it like 48, 1:50 or 1/4" = 1\'-0"'
    ),
}
