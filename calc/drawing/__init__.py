"""An elevation's parts: sheet (paper, lines, words), pieces, wall, words, legend.

Law: plain joining of texts; places are whole numbers of the sheet's unit, and
a word that would touch another is left out, never squeezed.
"""
