import type { PGlite } from '@electric-sql/pglite'

/** What a statement's parameter may be: numbers go as text, several pieces of bytes as one after the other. */
export type Parameter = string | number | Uint8Array | readonly Uint8Array[]

const LENGTH_BYTES = 4
const MOST_UTF8_BYTES = 3
/** Room for what stands around texts and parameters. */
const FRAME_BYTES = 256
const TEXT_FORMAT = 0
const BINARY_FORMAT = 1

const isText = (parameter: Parameter) => typeof parameter === 'string' || typeof parameter === 'number'

const sumOf = <T>(list: readonly T[], of: (one: T) => number) => list.reduce((sum, one) => sum + of(one), 0)

const utf8 = new TextEncoder()
let room = new Uint8Array(0)

/**
 * One statement as messages of PostgreSQL's protocol (parse, bind, execute, sync), in room that the next one reuses:
 * PGlite's own way copies bytes five times, and what it leaves behind has all of the server's memory looked through.
 */
function messagesOf(text: string, parameters: readonly Parameter[]): Uint8Array {
  const most = (value: Parameter): number => {
    if (value instanceof Uint8Array) return value.length
    return isText(value) ? String(value).length * MOST_UTF8_BYTES : sumOf(value, (piece) => piece.length)
  }
  const needed = most(text) + sumOf(parameters, (one) => FRAME_BYTES + most(one))
  if (room.length < needed + FRAME_BYTES) room = new Uint8Array(needed + FRAME_BYTES)
  const view = new DataView(room.buffer)
  let at = 0
  const int16 = (value: number) => {
    view.setInt16(at, value)
    at += 2
  }
  const ended = (string: string) => {
    at += utf8.encodeInto(string, room.subarray(at)).written
    room[at++] = 0
  }
  const message = (type: string, fill: () => void) => {
    room[at++] = type.charCodeAt(0)
    const begin = at
    at += LENGTH_BYTES
    fill()
    view.setInt32(begin, at - begin)
  }
  const value = (parameter: Parameter) => {
    const begin = at
    at += LENGTH_BYTES
    if (isText(parameter)) at += utf8.encodeInto(String(parameter), room.subarray(at)).written
    else
      for (const piece of parameter instanceof Uint8Array ? [parameter] : parameter) {
        room.set(piece, at)
        at += piece.length
      }
    view.setInt32(begin, at - begin - LENGTH_BYTES)
  }
  message('P', () => {
    ended('')
    ended(text)
    int16(0)
  })
  message('B', () => {
    ended('')
    ended('')
    int16(parameters.length)
    for (const one of parameters) int16(isText(one) ? TEXT_FORMAT : BINARY_FORMAT)
    int16(parameters.length)
    for (const one of parameters) value(one)
    int16(0)
  })
  message('E', () => {
    ended('')
    view.setInt32(at, 0)
    at += LENGTH_BYTES
  })
  message('S', () => {})
  return room.subarray(0, at)
}

/** Runs a statement that returns nothing on the embedded database, in a transaction of its own. */
export async function writeEmbedded(
  client: PGlite,
  text: string,
  parameters: readonly Parameter[],
): Promise<void> {
  // Its transaction keeps other statements out, and this one out of theirs.
  await client.transaction(() => client.runExclusive(() => client.execProtocol(messagesOf(text, parameters))))
}
