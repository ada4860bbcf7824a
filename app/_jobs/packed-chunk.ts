import { constants, gunzipSync, gzipSync } from 'node:zlib'

/** First byte of a gzip file (RFC 1952); a chunk that is not gzipped begins with its version or a length below that. */
const GZIP = 0x1f

/** Encoded samples or cells as they are stored: gzipped where they are loose. */
export const closePacked = (encoded: Uint8Array, isLoose: boolean): Uint8Array =>
  isLoose ? new Uint8Array(gzipSync(encoded, { level: constants.Z_BEST_SPEED })) : encoded

/** What was encoded, of what is stored; until 28 November 2026 all of it was gzipped. */
export const openPacked = (stored: Uint8Array): Uint8Array =>
  stored[0] === GZIP ? gunzipSync(stored) : stored
