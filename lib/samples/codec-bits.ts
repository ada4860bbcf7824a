/** Numbers that share one width: few enough that a jump widens only those beside it, and full words of 32 bits. */
const BLOCK = 32
const WORD_BYTES = 4

/** Length of the widths, a byte a block, filled up to whole words. */
const widthBytes = (blocks: number) => Math.ceil(blocks / WORD_BYTES) * WORD_BYTES

const folded = new Int32Array(BLOCK)
let room = new Int32Array(0)

/** Room to work in, kept from call to call: millions of samples are packed in one go. */
function roomFor(bytes: number): { readonly bytes: Uint8Array; readonly words: Int32Array } {
  if (room.byteLength < bytes) room = new Int32Array(Math.ceil(bytes / WORD_BYTES))
  return { bytes: new Uint8Array(room.buffer), words: room }
}

/**
 * Whole numbers as differences from the one before (modulo 2³²), folded so that small ones of either sign are small
 * (zigzag), each block of 32 with as many bits a number as its largest needs. First the widths, then the blocks, in
 * little-endian words.
 * @param count how many of them, from the first on
 */
export function toBits(whole: Int32Array, count = whole.length): Uint8Array {
  const blocks = Math.ceil(count / BLOCK)
  const head = widthBytes(blocks)
  const { bytes, words } = roomFor(head + (blocks * BLOCK + 1) * WORD_BYTES)
  bytes.fill(0, 0, head)
  let at = head / WORD_BYTES
  let before = 0
  for (let block = 0; block < blocks; block++) {
    const from = block * BLOCK
    const size = Math.min(BLOCK, count - from)
    let all = 0
    for (let i = 0; i < size; i++) {
      const value = whole[from + i]
      const delta = (value - before) | 0
      before = value
      const fold = (delta << 1) ^ (delta >> 31)
      folded[i] = fold
      all |= fold
    }
    if (size < BLOCK) folded.fill(0, size)
    const width = 32 - Math.clz32(all)
    bytes[block] = width
    if (width === 0) continue
    let word = 0
    let filled = 0
    for (let i = 0; i < BLOCK; i++) {
      word |= folded[i] << filled
      filled += width
      if (filled < 32) continue
      words[at++] = word
      filled -= 32
      // A shift by 32 would be one by 0.
      word = filled === 0 ? 0 : (folded[i] >>> (width - filled)) | 0
    }
  }
  return bytes.slice(0, at * WORD_BYTES)
}

/**
 * The `count` whole numbers that {@link toBits} laid out; null where the bytes are not as many as the widths say.
 */
export function fromBits(bytes: Uint8Array, count: number): Int32Array | null {
  const blocks = Math.ceil(count / BLOCK)
  const head = widthBytes(blocks)
  if (bytes.length < head || bytes.length % WORD_BYTES !== 0) return null
  let needed = head
  for (let block = 0; block < blocks; block++) needed += bytes[block] * (BLOCK / 8)
  if (needed !== bytes.length) return null
  // Words can be laid over bytes that begin at a multiple of four only.
  const aligned = bytes.byteOffset % WORD_BYTES === 0 ? bytes : bytes.slice()
  const words = new Int32Array(aligned.buffer, aligned.byteOffset, aligned.length / WORD_BYTES)
  const whole = new Int32Array(count)
  let at = head / WORD_BYTES
  let before = 0
  for (let block = 0; block < blocks; block++) {
    const from = block * BLOCK
    const end = Math.min(from + BLOCK, count)
    const width = bytes[block]
    if (width > 32) return null
    if (width === 0) {
      whole.fill(before, from, end)
      continue
    }
    const mask = width === 32 ? -1 : (1 << width) - 1
    let word = words[at]
    let used = 0
    let next = at + 1
    for (let i = from; i < end; i++) {
      let fold = (word >>> used) | 0
      used += width
      if (used >= 32) {
        used -= 32
        word = next < words.length ? words[next] : 0
        next++
        if (used > 0) fold |= word << (width - used)
      }
      fold &= mask
      before = (before + ((fold >>> 1) ^ -(fold & 1))) | 0
      whole[i] = before
    }
    at += width
  }
  return whole
}
