/** Raised whenever the same samples would give other figures; stored beside every analysis. */
export const ENGINE_VERSION = 10
