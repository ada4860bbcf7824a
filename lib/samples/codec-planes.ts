const BYTES = 4

/**
 * Whole numbers as differences from the one before (modulo 2³²), folded so that small ones of either sign are
 * small (zigzag), then split into planes: all lowest bytes first. Slow signals become runs that pack well.
 */
export function toPlanes(whole: Int32Array): Uint8Array {
  const count = whole.length
  const planes = new Uint8Array(count * BYTES)
  let before = 0
  for (let i = 0; i < count; i++) {
    const delta = (whole[i] - before) | 0
    before = whole[i]
    const folded = (delta << 1) ^ (delta >> 31)
    planes[i] = folded & 0xff
    planes[count + i] = (folded >>> 8) & 0xff
    planes[2 * count + i] = (folded >>> 16) & 0xff
    planes[3 * count + i] = folded >>> 24
  }
  return planes
}

/** The whole numbers that {@link toPlanes} laid out; `planes` holds four bytes a number. */
export function fromPlanes(planes: Uint8Array): Int32Array {
  const count = planes.length / BYTES
  const whole = new Int32Array(count)
  let before = 0
  for (let i = 0; i < count; i++) {
    const folded =
      planes[i] | (planes[count + i] << 8) | (planes[2 * count + i] << 16) | (planes[3 * count + i] << 24)
    before = (before + ((folded >>> 1) ^ -(folded & 1))) | 0
    whole[i] = before
  }
  return whole
}
