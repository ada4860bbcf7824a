import type { LedgerKWh, Stream } from '@/lib/contract/result'

export interface Branch {
  readonly stream: Stream
  readonly kWh: number
  /** Where the branch leaves the trunk, left to right, and how thick it is, in drawing units. */
  readonly leaveX: number
  readonly top: number
  readonly thickness: number
  /** True where it falls away to heat; false where it reaches the right edge. */
  readonly falls: boolean
}

export interface FlowLayout {
  readonly scale: number
  readonly input: number
  readonly branches: readonly Branch[]
}

/** Room a label needs beneath its branch, in drawing units. */
const SLOT = 96

const FALLING: readonly Stream[] = [
  'motorLoss',
  'pumpLoss',
  'overRelief',
  'unloading',
  'unaccounted',
  'metering',
]

/**
 * Places the streams of an account as a trunk that narrows from the meter to the load.
 * Losses leave downwards in the order they occur, what is left arrives at the right.
 * @param height drawing units the whole electric input is thick
 */
export function layoutFlow(ledger: LedgerKWh, width: number, height: number): FlowLayout {
  const input = ledger.electricIn.value
  const scale = input > 0 ? height / input : 0
  const arriving: Stream = ledger.work ? 'work' : 'intoSystem'
  const falling = FALLING.filter((stream) => (ledger[stream]?.value ?? 0) * scale > 0.2)
  const thicknessOf = (stream: Stream) => (ledger[stream]?.value ?? 0) * scale
  const slots = falling.map((stream) => Math.max(SLOT, thicknessOf(stream) + SLOT / 3))
  const spare = Math.max(0, width - slots.reduce((sum, slot) => sum + slot, 0)) / (falling.length + 1)
  let top = height
  let x = spare
  const branches: Branch[] = falling.map((stream, index) => {
    const thickness = thicknessOf(stream)
    const leaveX = x + (slots[index] - thickness) / 2
    top -= thickness
    x += slots[index] + spare
    return { stream, kWh: ledger[stream]?.value ?? 0, leaveX, top, thickness, falls: true }
  })
  const kWh = Math.max(0, ledger[arriving]?.value ?? 0)
  branches.push({ stream: arriving, kWh, leaveX: width, top: 0, thickness: kWh * scale, falls: false })
  return { scale, input, branches }
}
