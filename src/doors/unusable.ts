/** Something that the doors need and that cannot be used as it stands; the message says what to do. */
export class Unusable extends Error {}
