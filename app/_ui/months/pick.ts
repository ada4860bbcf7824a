import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import type { AddressState } from '@/app/_tables/address-state'
import { WASTE_KINDS, type WasteKind } from '@/lib/months/waste'
import { DESTINATIONS } from '../streams'
import type { Picked } from './month-sum'

/**
 * The machines and kinds of waste that search and choices of the waste table leave over, so that headline
 * and bars show the same as the table's rows. Machines without any kind left are left out.
 */
export function pick(
  machines: readonly ShownMachine[],
  { search, choices }: Pick<AddressState, 'search' | 'choices'>,
): Picked[] {
  const wanted = search.toLowerCase()
  const fits = ({ name, line }: ShownMachine, kind: WasteKind) => {
    const { label } = DESTINATIONS[kind]
    return (
      (!choices.machine || choices.machine === name) &&
      (!choices.line || choices.line === line) &&
      (!choices.kind || choices.kind === label) &&
      [name, line ?? '', label].some((text) => text.toLowerCase().includes(wanted))
    )
  }
  return machines
    .map((machine) => ({ machine, kinds: WASTE_KINDS.filter((kind) => fits(machine, kind)) }))
    .filter(({ kinds }) => kinds.length > 0)
}
