// The house of the example.

#ifndef HOUSE_H
#define HOUSE_H

#include "legwork.h"

// Builds it in this storage, and answers the first error met.
legwork_error house_build(legwork_home *home);

#endif
