'use client'
import Link from 'next/link'
import { useMemo, useRef, useState } from 'react'
import type { CompareRow, CompareView } from '@/app/_server/views/compare-view'
import type { SavedView } from '@/app/_server/views/saved-views'
import { DataTable } from '@/app/_tables/data-table'
import { SavedViews } from '../saved-views'
import { machinesColumns } from './machines-columns'
import { MachinesExplained } from './machines-explained'
import { RowExplained } from './row-explained'

/** Machines side by side; figures of each machine's latest month with logs. */
export function MachinesTable({ view, savedViews }: { view: CompareView; savedViews: readonly SavedView[] }) {
  const [picked, setPicked] = useState<readonly string[]>([])
  const [opened, setOpened] = useState<CompareRow | null>(null)
  const dialog = useRef<HTMLDialogElement>(null)
  const columns = useMemo(
    () =>
      machinesColumns(view, {
        picked,
        onPick: (id, isPicked) =>
          setPicked((now) => (isPicked ? [...now, id] : now.filter((one) => one !== id))),
        onOpen: (row) => {
          setOpened(row)
          dialog.current?.showModal()
        },
      }),
    [view, picked],
  )
  return (
    <>
      <div className="tools screen-only">
        {picked.length >= 2 ? (
          <Link className="button main" href={`/machines/compare?ids=${picked.join(',')}`}>
            Lay {picked.length} machines over one another
          </Link>
        ) : (
          <span className="soft small">Tick two to four machines to lay them over one another.</span>
        )}
      </div>
      <SavedViews page="machines" views={savedViews} />
      <DataTable caption="Machines compared" columns={columns} rows={view.rows} rowKey={(row) => row.id} />
      <dialog ref={dialog} className="sheet" aria-label={`How the figures of ${opened?.name} are reached`}>
        {opened ? <RowExplained row={opened} currency={view.currency} timeZone={view.timeZone} /> : null}
        <button type="button" onClick={() => dialog.current?.close()}>
          Close
        </button>
      </dialog>
      <MachinesExplained />
    </>
  )
}
