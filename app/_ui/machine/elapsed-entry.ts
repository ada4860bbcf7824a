const PART = 60
const DECIMALS = 6

/** Elapsed seconds as `h:mm:ss` with every decimal they have, so that what is read back is the same instant. */
export function writeElapsed(seconds: number): string {
  const [whole, fraction] = seconds.toFixed(DECIMALS).split('.')
  const two = (n: number) => String(n).padStart(2, '0')
  const rest = Number(whole) % (PART * PART)
  const tail = fraction.replace(/0+$/, '')
  return `${Math.floor(Number(whole) / PART / PART)}:${two(Math.floor(rest / PART))}:${two(rest % PART)}${tail ? `.${tail}` : ''}`
}

/** Elapsed seconds from `h:mm:ss`, `mm:ss` or seconds, with decimals; null where it is none of them. */
export function readElapsed(text: string): number | null {
  const parts = text.trim().replace(',', '.').split(':')
  const isTime =
    parts.length <= 3 &&
    parts.every((part, nth) => {
      const isLast = nth === parts.length - 1
      return (isLast ? /^\d+(\.\d*)?$/ : /^\d+$/).test(part) && (nth === 0 || Number(part) < PART)
    })
  return isTime ? parts.reduce((sum, part) => sum * PART + Number(part), 0) : null
}
