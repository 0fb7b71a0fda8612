//! Where the cut line goes on the tube: the wrap, the mark line, the turn of the zero line.
