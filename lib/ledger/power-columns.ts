import {
  inputFromPowerW,
  inputFromShaftW,
  inputOnMainsW,
  shaftFromReadingW,
  shaftOnMainsW,
} from '@/lib/machine/electric-side'
import { inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import type { Columns } from './columns'
import { type ElectricPower, electricPower, type Readings, weighedShaftW } from './operating-point'
import type { Run } from './run-columns'

type FillPower = (
  run: Run,
  read: Readings,
  pumpM3S: Float64Array,
  electricW: Float64Array,
  shaftW: Float64Array,
) => void

/** Electric input and shaft power of runs of samples: `electricPower` of operating-point.ts, array by array. */
export function powerFiller(columns: Columns, model: MachineModel): FillPower {
  const { motor, drive, isFixed } = model
  const { pumpPressurePa, currentA, powerW, voltageV, speedRadS } = columns.of
  const power: ElectricPower = { electricW: 0, shaftW: 0 }
  const seenAt = (i: number) => ({
    powerW: powerW[i],
    currentA: currentA[i],
    voltageV: voltageV[i],
    speedRadS: speedRadS[i],
  })

  const oneByOne: FillPower = ({ kind, begin, end, frame }, read, pumpM3S, electricW, shaftW) => {
    for (let i = begin; i < end; i++) {
      columns.readAt(i, read)
      electricPower(read, kind, model, pumpM3S[i], frame.currentWeight, power)
      electricW[i] = power.electricW
      shaftW[i] = power.shaftW
    }
  }
  const fromPower: FillPower = ({ begin, end }, _, __, electricW, shaftW) => {
    for (let i = begin; i < end; i++) {
      const inputW = powerW[i]
      shaftW[i] = drive
        ? shaftFromReadingW(model, seenAt(i))
        : shaftOnMainsW(motor, inputW, Number.NaN, voltageV[i])
      electricW[i] = inputFromPowerW(model, inputW)
    }
  }
  const fromCurrent: FillPower = ({ begin, end, frame }, read, pumpM3S, electricW, shaftW) => {
    const { currentWeight } = frame
    const fed = inPumpState(model, read.pumpState)
    for (let i = begin; i < end; i++) {
      const seenW = drive
        ? shaftFromReadingW(model, seenAt(i))
        : shaftOnMainsW(motor, Number.NaN, currentA[i], voltageV[i])
      const pumpW = pumpShaftW(fed, pumpPressurePa[i], isFixed ? null : pumpM3S[i], speedRadS[i])
      const atShaftW = weighedShaftW(seenW, pumpW, currentWeight)
      shaftW[i] = atShaftW
      electricW[i] = drive
        ? inputFromShaftW(model, atShaftW, seenAt(i))
        : inputOnMainsW(motor, atShaftW, voltageV[i])
    }
  }
  return (run, read, pumpM3S, electricW, shaftW) => {
    const isRunning = run.kind !== 'stopped' && run.kind !== 'starting'
    const fill = !isRunning ? oneByOne : Number.isNaN(read.powerW) ? fromCurrent : fromPower
    fill(run, read, pumpM3S, electricW, shaftW)
  }
}
