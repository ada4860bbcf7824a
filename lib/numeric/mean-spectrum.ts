import { type Signal, valueAt } from './signal'

/** Mean power at whole numbers of periods a window. */
export interface MeanSpectrum {
  /** Variance that periods `k` a window carry, k = index, in the signal's unit squared; index 0 is nil. */
  readonly variance: Float64Array
  readonly windows: number
}

/** Straight line through a window taken off, so that slow drift is no oscillation. */
function detrended(signal: Signal, from: number, length: number): Float64Array {
  const values = Float64Array.from({ length }, (_, i) => valueAt(signal, from + i))
  const middle = (length - 1) / 2
  let mean = 0
  let slope = 0
  let square = 0
  for (let i = 0; i < length; i++) {
    mean += values[i] / length
    slope += (i - middle) * values[i]
    square += (i - middle) ** 2
  }
  return Float64Array.from({ length }, (_, i) => values[i] - mean - (slope / square) * (i - middle))
}

/**
 * Periodograms of windows of `length` samples, averaged (Bartlett's method; a discrete Fourier transform as any
 * text on signals has it). `starts` are the windows' first samples; windows with missing values are left out.
 */
export function meanSpectrum(signal: Signal, starts: readonly number[], length: number): MeanSpectrum {
  const half = Math.floor(length / 2)
  const variance = new Float64Array(half + 1)
  let windows = 0
  for (const start of starts) {
    const window = detrended(signal, start, length)
    if (window.some(Number.isNaN)) continue
    windows += 1
    for (let k = 1; k <= half; k++) {
      let re = 0
      let im = 0
      for (let i = 0; i < length; i++) {
        const angle = (2 * Math.PI * k * i) / length
        re += window[i] * Math.cos(angle)
        im -= window[i] * Math.sin(angle)
      }
      variance[k] += ((k * 2 === length ? 1 : 2) * (re * re + im * im)) / (length * length)
    }
  }
  if (windows > 0) for (let k = 0; k <= half; k++) variance[k] /= windows
  return { variance, windows }
}
