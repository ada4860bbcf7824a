import type { Metadata } from 'next'
import { redirect } from 'next/navigation'
import { database } from '@/app/_server/database'
import { latestMonth } from '@/app/_server/views/month-view'
import { FirstSteps } from '@/app/_ui/first-steps'
import { listMachines } from '@/db/queries/machines'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: { absolute: 'First steps · Tankward' } }

/** The review of the latest month with logs; without any, what to do first. */
export default async function HomePage() {
  const db = await database()
  const month = await latestMonth(db)
  if (month) redirect(`/months/${month}`)
  const machines = await listMachines(db)
  return <FirstSteps machineId={machines[0]?.id ?? null} />
}
