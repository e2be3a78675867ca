/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A failed assert of the heart traps. The C library's own would print first, and so make the module
 * import a file system.
 */
#include <assert.h>

/* The declaration is the C library's, in <assert.h>; its name is not ours to choose. */
_Noreturn void __assert_fail(const char *expression, const char *file, int line,
                             const char *function) {
    (void)expression;
    (void)file;
    (void)line;
    (void)function;
    __builtin_trap();
}
