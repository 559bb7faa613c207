"""How surely a print is known in lace: pictures as an eye sees them (`picture`), the shapes it could be taken for
(`signs`) and the verdict (`knowing`); what is to be said of a piece as a whole (`traits`)."""
