/** Of the program and of its HTTP interface; test/shape holds it against package.json. */
export const VERSION = '0.1.0'
