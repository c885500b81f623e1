// Tine shaft as found: worn groove, hard seal, gear oil.
#declare Mended = 0;
#include "tine-seal.inc"
