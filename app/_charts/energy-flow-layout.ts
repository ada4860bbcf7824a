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
  /** How long the trunk is: the width asked for, or more where the labels need it. */
  readonly length: number
  readonly branches: readonly Branch[]
}

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
 * @param width drawing units the trunk is long at least
 * @param height drawing units the whole electric input is thick
 * @param slot drawing units a label needs along the trunk
 */
export function layoutFlow(ledger: LedgerKWh, width: number, height: number, slot = 96): FlowLayout {
  const input = ledger.electricIn.value
  const scale = input > 0 ? height / input : 0
  const arriving: Stream = ledger.work ? 'work' : 'intoSystem'
  const falling = FALLING.filter((stream) => (ledger[stream]?.value ?? 0) * scale > 0.2)
  const thicknessOf = (stream: Stream) => (ledger[stream]?.value ?? 0) * scale
  const slots = falling.map((stream) => Math.max(slot, thicknessOf(stream) + slot / 3))
  const needed = slots.reduce((sum, one) => sum + one, 0)
  const length = Math.max(width, needed)
  const spare = (length - needed) / (falling.length + 1)
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
  branches.push({ stream: arriving, kWh, leaveX: length, top: 0, thickness: kWh * scale, falls: false })
  return { scale, input, length, branches }
}
