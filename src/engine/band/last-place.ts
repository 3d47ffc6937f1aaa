/** The order of a feel that asks for no place. */
export const LAST_PLACE = 1000;
