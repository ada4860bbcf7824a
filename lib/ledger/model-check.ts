import type { Analysis } from '@/lib/contract/result'
import { inputFromPowerW, inputFromShaftW, shaftFromReadingW } from '@/lib/machine/electric-side'
import { pumpShaftW } from '@/lib/machine/machine-model'
import type { Sensor } from '@/lib/samples/sensors'
import type { Ledger } from './ledger'
import { nodeFlows } from './operating-point'
import { at } from './parameters'
import { corrected } from './readings'

/** Averaging interval, and the shorter one for short logs. */
const AVERAGING_S = 60
const SHORT_AVERAGING_S = 10
const LEAST_INTERVALS = 10
/** ASHRAE Guideline 14-2014, hourly calibration: NMBE ± 10 %, CV(RMSE) 30 %. */
const NMBE_LIMIT = 0.1
const CV_RMSE_LIMIT = 0.3
/** Line current tells power only above about half load (US DOE motor load guidance). */
const CURRENT_TRUST_SHARE = 0.5

/**
 * Compares the pump and motor model's input with the logged input over averaging intervals of running
 * time (NMBE and CV(RMSE) as ASHRAE Guideline 14 defines them, n − 1 in the denominator; model less
 * logged, over logged). With current alone two models are compared, and the result says so.
 */
export function checkModel(ledger: Ledger): Analysis['model'] {
  const { model, curve, values, segmentation, sensors, trace } = ledger
  const againstMeasuredPower = sensors.power !== null
  const lastS = trace.timeS[trace.timeS.length - 1]
  const isLong = lastS + trace.sampleIntervalS >= LEAST_INTERVALS * AVERAGING_S - 1e-6
  const averagingIntervalS = isLong ? AVERAGING_S : SHORT_AVERAGING_S
  const none = { nmbe: null, cvRmse: null, averagingIntervalS, againstMeasuredPower, trusted: false }
  if (!sensors.power && !sensors.current) return none

  const bins = Math.floor(lastS / averagingIntervalS) + 1
  const logged = new Float64Array(bins)
  const modelled = new Float64Array(bins)
  const seconds = new Float64Array(bins)
  let loadedS = 0
  let runningS = 0
  for (const step of segmentation.steps) {
    if (step.kind === 'stopped' || step.kind === 'starting') continue
    const read = corrected(step.means, values)
    const flows = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa)
    const partStroke = !model.isFixed && step.kind !== 'idle-unloaded'
    const pumpW = pumpShaftW(model, read.pumpPressurePa, partStroke ? flows.pump : null, read.speedRadS)
    if (Number.isNaN(pumpW)) continue
    const modelW = inputFromShaftW(model, pumpW, read)
    runningS += step.durationS
    if (pumpW > CURRENT_TRUST_SHARE * model.motor.ratedShaftW) loadedS += step.durationS
    for (let i = step.from; i < step.to; i++) {
      const bin = Math.floor(trace.timeS[i] / averagingIntervalS)
      const loggedW = loggedInputW(ledger, i)
      if (Number.isNaN(loggedW)) continue
      logged[bin] += loggedW * trace.holdS[i]
      modelled[bin] += modelW * trace.holdS[i]
      seconds[bin] += trace.holdS[i]
    }
  }
  let count = 0
  let sum = 0
  let bias = 0
  let squares = 0
  for (let bin = 0; bin < bins; bin++) {
    if (seconds[bin] < averagingIntervalS / 2) continue
    const mean = logged[bin] / seconds[bin]
    const miss = modelled[bin] / seconds[bin] - mean
    count++
    sum += mean
    bias += miss
    squares += miss * miss
  }
  if (count < 2 || sum <= 0) return none
  const mean = sum / count
  const nmbe = bias / ((count - 1) * mean)
  const cvRmse = Math.sqrt(squares / (count - 1)) / mean
  const within = Math.abs(nmbe) <= NMBE_LIMIT && cvRmse <= CV_RMSE_LIMIT
  const seenWell = againstMeasuredPower || loadedS > CURRENT_TRUST_SHARE * runningS
  return { nmbe, cvRmse, averagingIntervalS, againstMeasuredPower, trusted: within && seenWell }
}

/** Electric input of a sample as its sensors tell it without the pump model, W; NaN where they are silent. */
function loggedInputW({ sensors, model, values }: Ledger, sample: number): number {
  const reading = (sensor: Sensor | null) => sensor?.values[sample] ?? Number.NaN
  if (sensors.power) return inputFromPowerW(model, reading(sensors.power) - values[at('powerOffset')])
  const read = {
    powerW: Number.NaN,
    currentA: reading(sensors.current) - values[at('currentOffset')],
    voltageV: reading(sensors.voltage),
    speedRadS: reading(sensors.speed) - values[at('speedOffset')],
  }
  return inputFromShaftW(model, shaftFromReadingW(model, read), read)
}
