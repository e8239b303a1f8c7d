/** The version that the command line and the engine tell. */
export const VERSION = '0.1.0';
