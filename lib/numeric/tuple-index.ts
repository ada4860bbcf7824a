/** Numbers given to the first tuples; the table doubles as it fills. */
const FIRST_SLOTS = 1024
/** Odd constants that spread the bits of 32-bit integers: multiplicative hashing (Knuth, TAOCP 3, 6.4). */
const SPREAD = 0x9e3779b1
const STIR = 0x85ebca6b

/**
 * Numbers tuples of integers in the order in which they are first met: equal tuples get one number.
 * Integers are taken modulo 2³². Open addressing, so that no text is made of a tuple.
 * @param width integers in every tuple
 */
export function tupleIndex(width: number): (tuple: Int32Array) => number {
  let slots = new Int32Array(FIRST_SLOTS).fill(-1)
  let keys = new Int32Array(FIRST_SLOTS * width)
  let count = 0
  const slotOf = (tuple: Int32Array, from: number) => {
    let hash = 0
    for (let k = 0; k < width; k++) {
      hash = Math.imul(hash ^ tuple[from + k], SPREAD)
      hash ^= hash >>> 15
    }
    hash = Math.imul(hash, STIR)
    let slot = (hash ^ (hash >>> 13)) & (slots.length - 1)
    for (; slots[slot] >= 0; slot = (slot + 1) & (slots.length - 1)) {
      const at = slots[slot] * width
      let k = 0
      while (k < width && keys[at + k] === tuple[from + k]) k++
      if (k === width) break
    }
    return slot
  }
  const grow = () => {
    const old = keys
    slots = new Int32Array(2 * slots.length).fill(-1)
    keys = new Int32Array(slots.length * width)
    keys.set(old)
    for (let k = 0; k < count; k++) slots[slotOf(old, k * width)] = k
  }
  return (tuple) => {
    const slot = slotOf(tuple, 0)
    if (slots[slot] >= 0) return slots[slot]
    const number = count
    slots[slot] = number
    keys.set(tuple, number * width)
    count++
    if (2 * count > slots.length) grow()
    return number
  }
}
