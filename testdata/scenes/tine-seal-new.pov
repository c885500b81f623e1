// Tine shaft as left: polished, new seal.
#declare Mended = 1;
#include "tine-seal.inc"
