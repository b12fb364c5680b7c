import * as z from 'zod/mini'

/** Lets a schema say in English what is wrong: the small build of zod has no words of its own. Imported for that alone. */
z.config(z.locales.en())
