/** PostgreSQL's number for the type bytea. */
const BYTEA = 17

/**
 * How bytes go to PGlite: as they are, in its protocol's binary form. They come back as PostgreSQL's hex text, which
 * its own way, a string a byte, takes half a second a megabyte to read and blocks the event loop meanwhile; this
 * takes a twentieth.
 */
export const embeddedBytes = {
  serializers: { [BYTEA]: (bytes: Uint8Array) => bytes as unknown as string },
  parsers: { [BYTEA]: (text: string) => new Uint8Array(Buffer.from(text.slice(2), 'hex')) },
}
