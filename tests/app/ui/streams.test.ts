import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { DESTINATIONS, METER_SHARES, STACK, STACK_JOINED } from '@/app/_ui/streams'
import { STREAMS } from '@/lib/contract/result'
import { WASTE_KINDS } from '@/lib/months/waste'

type Rgb = readonly [number, number, number]

const linear = (hex: string): Rgb => {
  const channel = (at: number) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  }
  return [channel(1), channel(3), channel(5)]
}

/** CIE 1976 L*a*b* of linear sRGB, D65 (IEC 61966-2-1, CIE 15; constants from memory). */
function lab([r, g, b]: Rgb): Rgb {
  const f = (t: number) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 / 116) * t + 16 / 116)
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505)
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b)
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089)
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)]
}

/** Dichromats' view of linear sRGB: Machado, Oliveira, Fernandes 2009, severity 1.0 (matrices from memory). */
const SEEN_BY: Readonly<Record<string, readonly Rgb[]>> = {
  'full colour': [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
}

const seen = (hex: string, matrix: readonly Rgb[]): Rgb => {
  const c = linear(hex)
  const row = (m: Rgb) => Math.min(1, Math.max(0, m[0] * c[0] + m[1] * c[1] + m[2] * c[2]))
  return [row(matrix[0]), row(matrix[1]), row(matrix[2])]
}

const lightness = (hex: string) => lab(linear(hex))[0]
const neighbours = (keys: readonly (keyof typeof DESTINATIONS)[]) =>
  keys.slice(1).map((key, index) => [keys[index], key] as const)

const THEMES = ['colour', 'dark'] as const
const DARK_SHEET = '#1b2023'
/** WCAG 2.2, relative luminance and contrast ratio. */
const luminance = (hex: string) => {
  const [r, g, b] = linear(hex)
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
const contrast = (a: string, b: string) => {
  const [high, low] = [luminance(a), luminance(b)].sort((p, q) => q - p)
  return (high + 0.05) / (low + 0.05)
}

describe('the colours of the destinations of energy', () => {
  it('exist once each, for every stream, and are the same in the style sheet', () => {
    const css = readFileSync('app/globals.css', 'utf8')
    for (const stream of [...STREAMS, 'idle'] as const) {
      const { colour, dark, token } = DESTINATIONS[stream]
      expect(css).toContain(`${token}: light-dark(${colour}, ${dark});`)
    }
    const colours = Object.values(DESTINATIONS).map(({ colour }) => colour)
    expect(new Set(colours).size).toBe(colours.length)
  })

  it.each([
    ['account', STACK],
    ['account without load pressure', STACK_JOINED],
  ] as const)('keep neighbours in the %s apart in grey print', (_, keys) => {
    for (const [a, b] of neighbours(keys)) {
      for (const theme of THEMES) {
        const apart = Math.abs(lightness(DESTINATIONS[a][theme]) - lightness(DESTINATIONS[b][theme]))
        expect(apart, `${a} beside ${b}, ${theme}`).toBeGreaterThan(18)
      }
    }
  })

  it.each(Object.entries(SEEN_BY))('keep any two apart with %s', (_, matrix) => {
    for (const keys of [STACK, STACK_JOINED, METER_SHARES, WASTE_KINDS]) {
      for (const a of keys) {
        for (const b of keys) {
          if (a === b) continue
          for (const theme of THEMES) {
            const [p, q] = [a, b].map((key) => lab(seen(DESTINATIONS[key][theme], matrix)))
            const apart = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])
            expect(apart, `${a} against ${b}, ${theme}`).toBeGreaterThan(19)
          }
        }
      }
    }
  })

  it('stand out from the sheet of a dark page by 3 : 1 (WCAG 2.2, 1.4.11)', () => {
    expect(readFileSync('app/globals.css', 'utf8')).toContain(`--sheet: light-dark(#fdfcf9, ${DARK_SHEET})`)
    for (const { dark, label } of Object.values(DESTINATIONS)) {
      expect(contrast(dark, DARK_SHEET), label).toBeGreaterThan(3)
    }
  })
})
