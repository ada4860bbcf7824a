const BYTES = 4

/**
 * Whole numbers from planes, four bytes a number: differences from the one before (modulo 2³²), folded so that small
 * ones of either sign are small (zigzag), all lowest bytes first. Chunks were stored so before codec-bits.ts.
 */
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
