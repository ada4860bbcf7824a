/** PostgreSQL's number for the type bytea. */
const BYTEA = 17

/**
 * How bytes go to PGlite and come back, as PostgreSQL's hex text. Its own way, a string a byte, takes half a
 * second a megabyte and blocks the event loop meanwhile; this takes a twentieth.
 */
export const embeddedBytes = {
  serializers: {
    [BYTEA]: (bytes: Uint8Array) =>
      `\\x${Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('hex')}`,
  },
  parsers: { [BYTEA]: (text: string) => new Uint8Array(Buffer.from(text.slice(2), 'hex')) },
}
