import type { BestOption } from '@/db/schema/log-digests'
import { BASES, type Estimate } from '@/lib/contract/estimate'
import type { ChangeSplit } from '@/lib/months/causes'
import type { FigureChange } from '@/lib/months/change'
import type { MachineMonth } from '@/lib/months/month'
import type { MonthReach } from '@/lib/months/month-intervals'
import type { Reach } from '@/lib/months/reach'
import type { MachineReview } from '@/lib/months/review'
import type { Amount, WasteKind } from '@/lib/months/waste'
import type { MachineReviewView } from './month-reviews'

// How the figures of a machine's month are laid out in a row of numbers, NaN for null. Written out name by name: hundreds
// of machines go through here with every page, and a description that is walked takes ten times as long.

type Waste = { readonly waste: MachineMonth['measured']['waste'] }
type OfKinds<T> = Readonly<Record<WasteKind, T>>

/** What of a review a page shows at once. */
export interface ShownReview {
  readonly month: Pick<MachineMonth, 'plannedHours' | 'coverageShare'> & {
    readonly measured: Pick<MachineMonth['measured'], 'runningHours' | 'electric' | 'heatKWh' | 'waste'> & {
      readonly hours: { readonly idle: number; readonly work: number }
    }
    readonly scaled: Waste | null
    readonly whole: Waste | null
  }
  readonly reach: OfKinds<MonthReach | null> & {
    readonly waste: MonthReach | null
    readonly electric: { readonly measured: Reach } | null
  }
  readonly changes: Readonly<Record<keyof MachineReview['changes'], OfKinds<FigureChange | null> | null>>
  readonly charges: MachineReview['charges']
  readonly logs: number
  readonly days: number
  readonly emissionKgPerKWh: number
}

export type ShownBest = Pick<
  BestOption,
  'id' | 'savedKWhPerYear' | 'savedCostPerYear' | 'paybackYears' | 'investmentIsPlaceholder'
>

/** What is packed of a machine. */
export interface PackedMachine {
  readonly review: ShownReview
  readonly best: ShownBest | null
}

/** A machine of a month as its page shows it. */
export interface ShownMachine extends PackedMachine {
  readonly machineId: string
  readonly name: string
  readonly line: string | null
  readonly baseline: MachineReviewView['baseline']
}

/** Writes numbers one behind the other. */
class Writer {
  constructor(
    readonly to: Float32Array,
    public at: number,
  ) {}
  number(value: number | null | undefined) {
    this.to[this.at++] = value ?? Number.NaN
  }
  skip(count: number) {
    this.to.fill(Number.NaN, this.at, this.at + count)
    this.at += count
  }
  amount(of: Amount | null | undefined) {
    if (!of) return this.skip(3)
    this.number(of.kWh)
    this.number(of.cost)
    this.number(of.kgCO2)
  }
  waste(of: Waste['waste'] | null | undefined) {
    this.amount(of?.idle)
    this.amount(of?.overRelief)
    this.amount(of?.unloading)
    this.amount(of?.metering)
  }
  reach(of: Reach | null | undefined) {
    this.number(of?.below)
    this.number(of?.above)
  }
  monthReach(of: MonthReach | null | undefined) {
    this.reach(of?.measured)
    this.reach(of?.scaled)
    this.reach(of?.whole)
    this.number(of?.scaledParts?.rates ?? null)
    this.number(of?.scaledParts?.days ?? null)
    this.number(of?.scaledParts?.hours ?? null)
  }
  split({ effects }: ChangeSplit) {
    this.number(effects.hours)
    this.number(effects.duty)
    this.number(effects.rate)
    this.number(effects.price)
  }
  change(of: FigureChange | null | undefined) {
    if (!of) return this.skip(8)
    this.split(of.kWh)
    this.split(of.cost)
  }
  changes(of: OfKinds<FigureChange | null> | null | undefined) {
    this.number(of ? 1 : null)
    this.change(of?.idle)
    this.change(of?.overRelief)
    this.change(of?.unloading)
    this.change(of?.metering)
  }
  estimate(of: Estimate | null | undefined) {
    this.number(of?.value)
    this.number(of?.low)
    this.number(of?.high)
    this.number(of && BASES.indexOf(of.basis))
  }
}

/** @param placeOf where an option's id stands among those of the page: one of a closed month may be no longer offered */
export function packMachine(
  { review, best }: PackedMachine,
  to: Float32Array,
  at: number,
  placeOf: (id: ShownBest['id']) => number,
): void {
  const write = new Writer(to, at)
  const { month, reach, changes, charges } = review
  const { measured, scaled, whole } = month
  for (const value of [month.plannedHours, month.coverageShare, review.logs, review.days]) write.number(value)
  write.number(review.emissionKgPerKWh)
  for (const value of [measured.runningHours, measured.hours.idle, measured.hours.work, measured.heatKWh])
    write.number(value)
  write.amount(measured.electric)
  write.waste(measured.waste)
  write.number(scaled && whole ? 1 : null)
  write.waste(scaled?.waste)
  write.waste(whole?.waste)
  write.reach(reach.electric?.measured)
  write.monthReach(reach.idle)
  write.monthReach(reach.overRelief)
  write.monthReach(reach.unloading)
  write.monthReach(reach.metering)
  write.monthReach(reach.waste)
  write.changes(changes.previous)
  write.changes(changes.lastYear)
  write.changes(changes.baseline)
  write.number(charges.demand)
  write.number(charges.reactive)
  write.number(best && placeOf(best.id))
  write.number(best?.investmentIsPlaceholder ? 1 : 0)
  write.estimate(best?.savedKWhPerYear)
  write.estimate(best?.savedCostPerYear)
  write.estimate(best?.paybackYears)
}

/** Reads them back in the same order. */
class Reader {
  constructor(
    readonly from: Float32Array,
    public at: number,
  ) {}
  number() {
    return this.from[this.at++]
  }
  known() {
    const value = this.number()
    return Number.isNaN(value) ? null : value
  }
  isKnown() {
    return !Number.isNaN(this.number())
  }
  amount(): Amount {
    return { kWh: this.number(), cost: this.number(), kgCO2: this.number() }
  }
  amountOrNull() {
    const amount = this.amount()
    return Number.isNaN(amount.kWh) ? null : amount
  }
  waste(): Waste['waste'] {
    return {
      idle: this.amountOrNull(),
      overRelief: this.amountOrNull(),
      unloading: this.amountOrNull(),
      metering: this.amountOrNull(),
    }
  }
  reach(): Reach | null {
    const reach = { below: this.number(), above: this.number() }
    return Number.isNaN(reach.below) ? null : reach
  }
  monthReach(): MonthReach | null {
    const [measured, scaled, whole] = [this.reach(), this.reach(), this.reach()]
    const parts = { rates: this.number(), days: this.number(), hours: this.number() }
    return measured && { measured, scaled, whole, scaledParts: Number.isNaN(parts.rates) ? null : parts }
  }
  split(): ChangeSplit {
    const effects = {
      hours: this.number(),
      duty: this.number(),
      rate: this.number(),
      price: this.number(),
    }
    return { change: effects.hours + effects.duty + effects.rate + effects.price, effects }
  }
  change(): FigureChange | null {
    const change = { kWh: this.split(), cost: this.split() }
    return Number.isNaN(change.kWh.change) ? null : change
  }
  changes(): OfKinds<FigureChange | null> | null {
    const isKnown = this.isKnown()
    const changes = {
      idle: this.change(),
      overRelief: this.change(),
      unloading: this.change(),
      metering: this.change(),
    }
    return isKnown ? changes : null
  }
  estimate(): Estimate | null {
    const [value, low, high, basis] = [this.number(), this.number(), this.number(), this.number()]
    return Number.isNaN(value) ? null : { value, low, high, basis: BASES[basis] }
  }
}

export const readMachine = (from: Float32Array, at: number, options: readonly ShownBest['id'][]) =>
  readFrom(new Reader(from, at), options)

function readFrom(read: Reader, options: readonly ShownBest['id'][]): PackedMachine {
  const [plannedHours, coverageShare, logs, days] = [
    read.number(),
    read.number(),
    read.number(),
    read.number(),
  ]
  const emissionKgPerKWh = read.number()
  const [runningHours, idle, work, heatKWh] = [read.number(), read.number(), read.number(), read.number()]
  const measured = {
    runningHours,
    hours: { idle, work },
    heatKWh,
    electric: read.amount(),
    waste: read.waste(),
  }
  const hasRun = read.isKnown()
  const [scaled, whole] = [{ waste: read.waste() }, { waste: read.waste() }]
  const electric = read.reach()
  return {
    review: {
      month: {
        plannedHours,
        coverageShare,
        measured,
        scaled: hasRun ? scaled : null,
        whole: hasRun ? whole : null,
      },
      reach: {
        electric: electric && { measured: electric },
        idle: read.monthReach(),
        overRelief: read.monthReach(),
        unloading: read.monthReach(),
        metering: read.monthReach(),
        waste: read.monthReach(),
      },
      changes: { previous: read.changes(), lastYear: read.changes(), baseline: read.changes() },
      charges: { demand: read.known(), reactive: read.known() },
      logs,
      days,
      emissionKgPerKWh,
    },
    best: readBest(read, options),
  }
}

function readBest(read: Reader, options: readonly ShownBest['id'][]): ShownBest | null {
  const [option, placeholder] = [read.number(), read.number()]
  const best = {
    id: options[option],
    investmentIsPlaceholder: placeholder === 1,
    savedKWhPerYear: read.estimate(),
    savedCostPerYear: read.estimate(),
    paybackYears: read.estimate(),
  }
  return Number.isNaN(option) ? null : best
}

/** Numbers of a machine. */
export const SIZE = (() => {
  const read = new Reader(new Float32Array(), 0)
  readFrom(read, [])
  return read.at
})()
