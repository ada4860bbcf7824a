import type { Analysis } from '@/lib/contract/result'
import {
  inputFromPowerW,
  inputFromShaftW,
  inputOnMainsW,
  shaftFromReadingW,
  shaftOnMainsW,
} from '@/lib/machine/electric-side'
import { inPumpState, pumpShaftW } from '@/lib/machine/machine-model'
import { readerOf } from '@/lib/samples/samples'
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
  const [timeS, holdS] = [readerOf(trace.timeS), readerOf(trace.holdS)]
  const lastS = timeS.at(timeS.length - 1)
  const isLong = lastS + trace.sampleIntervalS >= LEAST_INTERVALS * AVERAGING_S - 1e-6
  const averagingIntervalS = isLong ? AVERAGING_S : SHORT_AVERAGING_S
  const none = { nmbe: null, cvRmse: null, averagingIntervalS, againstMeasuredPower, trusted: false }
  if (!sensors.power && !sensors.current) return none

  const bins = Math.floor(lastS / averagingIntervalS) + 1
  const logged = new Float64Array(bins)
  const modelled = new Float64Array(bins)
  const seconds = new Float64Array(bins)
  const loggedInputW = loggedInputOf(ledger)
  let loadedS = 0
  let runningS = 0
  for (const step of segmentation.steps) {
    if (step.kind === 'stopped' || step.kind === 'starting') continue
    const read = corrected(step.means, values)
    const flows = nodeFlows(read, step.kind, model, curve, read.pumpPressurePa)
    const partStroke = !model.isFixed && step.kind !== 'idle-unloaded'
    const fed = inPumpState(model, read.pumpState)
    const pumpW = pumpShaftW(fed, read.pumpPressurePa, partStroke ? flows.pump : null, read.speedRadS)
    if (Number.isNaN(pumpW)) continue
    const modelW = inputFromShaftW(model, pumpW, read)
    runningS += step.durationS
    if (pumpW > CURRENT_TRUST_SHARE * model.motor.ratedShaftW) loadedS += step.durationS
    for (let i = step.from; i < step.to; i++) {
      const bin = Math.floor(timeS.at(i) / averagingIntervalS)
      const loggedW = loggedInputW(i)
      if (Number.isNaN(loggedW)) continue
      const hold = holdS.at(i)
      logged[bin] += loggedW * hold
      modelled[bin] += modelW * hold
      seconds[bin] += hold
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

/** Electric input of samples as their sensors tell it without the pump model, W; NaN where they are silent. */
function loggedInputOf({ sensors, model, values }: Ledger): (sample: number) => number {
  const { motor, drive } = model
  if (sensors.power) {
    const powerW = readerOf(sensors.power.values)
    const offsetW = values[at('powerOffset')]
    return (sample) => inputFromPowerW(model, powerW.at(sample) - offsetW)
  }
  const reader = (sensor: Sensor | null, offset: number) => {
    const readings = sensor && readerOf(sensor.values)
    return readings ? (sample: number) => readings.at(sample) - offset : () => Number.NaN
  }
  const currentA = reader(sensors.current, values[at('currentOffset')])
  const voltageV = reader(sensors.voltage, 0)
  const speedRadS = reader(sensors.speed, values[at('speedOffset')])
  if (!drive) {
    return (sample) => {
      const atV = voltageV(sample)
      return inputOnMainsW(motor, shaftOnMainsW(motor, Number.NaN, currentA(sample), atV), atV)
    }
  }
  return (sample) => {
    const read = { powerW: Number.NaN, currentA: currentA(sample), speedRadS: speedRadS(sample) }
    return inputFromShaftW(model, shaftFromReadingW(model, read), read)
  }
}
