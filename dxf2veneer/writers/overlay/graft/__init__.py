"""The overlay put into the bytes of the user's drawing: what is not ours stays byte for byte.

    999 seal                      ours, in front of everything
    SECTION HEADER  $HANDSEED     raised above our handles: the one value that changes
    SECTION TABLES  TABLE ... > our linetypes, layers, style, application < ENDTAB
    SECTION ENTITIES ... > our entities < ENDSEC
    everything else               as it was

anatomy.py   where tables, entities and the seed of handles stand in the bytes
earlier.py   where an earlier overlay stands
donor.py     an empty drawing of the same version that the overlay is drawn into
splice.py    its entries and entities as bytes, put between those of the drawing
"""
