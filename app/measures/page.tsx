import type { Metadata } from 'next'
import Link from 'next/link'
import { database } from '@/app/_server/database'
import { measuresView } from '@/app/_server/views/measures-view'
import { MeasuresTable } from '@/app/_ui/measures/measures-table'
import { NewMeasure } from '@/app/_ui/measures/new-measure'
import { PageHead } from '@/app/_ui/page-head'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Measures' }

/** What was decided, how far it has come, and what it was proven to save. */
export default async function MeasuresPage() {
  const { measures, machines } = await measuresView(await database())
  return (
    <>
      <PageHead title="Measures" about="What was decided, how far it has come, and what it proved to save" />
      {measures.length === 0 ? (
        <div className="sheet empty">
          <h2>No measure yet</h2>
          <p>
            Open a <Link href="/machines">machine</Link>, open one of its options and choose “Decide …”: the
            saving it promises is kept and held against later logs.
          </p>
        </div>
      ) : (
        <div className="sheet">
          <MeasuresTable measures={measures} />
        </div>
      )}
      {machines.length > 0 ? (
        <div className="sheet">
          <NewMeasure machines={machines} />
        </div>
      ) : null}
    </>
  )
}
