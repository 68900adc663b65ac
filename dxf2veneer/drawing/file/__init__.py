"""A drawing's file to a document of the DXF library, fast and safely, or one line why not.

    source.py      the stages in order: what it is, what it weighs, the document, its repair
    form.py        text, binary or another format; whether written to its end
    weight.py      whether it is too heavy to be taken on
    salvage.py     a last try at a damaged file, without the entities that stop it

FileParts of a large file that need not be read are left out before the library unfolds it:

    skim.py        without what no reading of the wanted layers comes upon
    sample.py      a sample for a survey
    references.py  which blocks lead to a wanted layer
    parts.py       sections, blocks and entities; tags.py where the tags of each stand
    string_table.py  which names in them are the same

Or, where all of them are asked for, those that are written plainly are read here:

    plain.py       without plain entities, which come beside
    columns.py     entities that are written alike, a column for each value
    forms.py       which group codes a plain entity has
"""
