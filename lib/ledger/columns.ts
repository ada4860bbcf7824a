import { MEAN_OF } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import type { Readings } from './operating-point'
import type { ParameterValues } from './parameters'
import { offsetsOf } from './readings'

/** Samples worked on at a time: few enough to stay in the processor's cache. */
export const BLOCK_SAMPLES = 4096

export const column = () => new Float64Array(BLOCK_SAMPLES)

/** Readings of a block of samples, an array for each fitted sensor. */
export interface Columns {
  /** NaN all through where the sensor is not fitted. */
  readonly of: Readonly<Record<keyof Readings, Float64Array>>
  /**
   * Takes in the samples [from, to) of a step from place `begin` on, without their offsets; one that is missing for
   * long is taken at its step's mean, for readings are steady within a step.
   */
  gather(from: number, to: number, begin: number, mean: Readings): void
  /** Puts the readings at a place into `read`. */
  readAt(place: number, read: Readings): void
}

export function columnsOf(sensors: Sensors, values: ParameterValues): Columns {
  const offsets = offsetsOf(values)
  const names = Object.keys(offsets) as (keyof Readings)[]
  const fitted = names.flatMap((name) => {
    const sensor = sensors[MEAN_OF[name]]
    return sensor
      ? [{ name, samples: readerOf(sensor.values), offset: offsets[name], readings: column() }]
      : []
  })
  const silent = column().fill(Number.NaN)
  const readingsOf = (name: keyof Readings) =>
    fitted.find((channel) => channel.name === name)?.readings ?? silent
  const of = Object.fromEntries(names.map((name) => [name, readingsOf(name)])) as Columns['of']
  const { pumpPressurePa, loadPressurePa, pumpFlowM3S, systemFlowM3S, returnFlowM3S, caseDrainM3S } = of
  const { currentA, powerW, voltageV, speedRadS, pumpState } = of
  return {
    of,
    gather: (from, to, begin, mean) => {
      for (const { name, samples, offset, readings } of fitted) {
        const instead = mean[name]
        const shift = from - begin
        for (let i = from; i < to; i++) {
          const value = samples.at(i) - offset
          readings[i - shift] = Number.isNaN(value) ? instead : value
        }
      }
    },
    // Written out, for it is done for every sample.
    readAt: (place, read) => {
      read.pumpPressurePa = pumpPressurePa[place]
      read.loadPressurePa = loadPressurePa[place]
      read.pumpFlowM3S = pumpFlowM3S[place]
      read.systemFlowM3S = systemFlowM3S[place]
      read.returnFlowM3S = returnFlowM3S[place]
      read.caseDrainM3S = caseDrainM3S[place]
      read.currentA = currentA[place]
      read.powerW = powerW[place]
      read.voltageV = voltageV[place]
      read.speedRadS = speedRadS[place]
      read.pumpState = pumpState[place]
    },
  }
}
