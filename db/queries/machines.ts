import { asc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type MachineRow, machines } from '@/db/schema/machines'
import type { Machine } from '@/lib/contract/machine'

export interface NewMachine {
  readonly id: string
  readonly siteId: string
  readonly line: string | null
  readonly trade: string | null
  readonly config: Machine
}

export async function listMachines(db: Database): Promise<MachineRow[]> {
  return db.select().from(machines).orderBy(asc(machines.name), asc(machines.id))
}

export type MachineName = Pick<MachineRow, 'id' | 'name' | 'line' | 'trade'>

/** Machines by name without their set-up, for pages that list many. */
export async function listMachineNames(db: Database, siteId: string): Promise<MachineName[]> {
  return db
    .select({ id: machines.id, name: machines.name, line: machines.line, trade: machines.trade })
    .from(machines)
    .where(eq(machines.siteId, siteId))
    .orderBy(asc(machines.name), asc(machines.id))
}

export async function findMachine(db: Database, id: string): Promise<MachineRow | null> {
  const [row] = await db.select().from(machines).where(eq(machines.id, id))
  return row ?? null
}

/** Stores a new machine; false where the id is taken. */
export async function insertMachine(db: Database, machine: NewMachine): Promise<boolean> {
  const made = await db
    .insert(machines)
    .values({ ...machine, name: machine.config.name })
    .onConflictDoNothing()
    .returning({ id: machines.id })
  return made.length > 0
}

export interface MachineChange {
  readonly config: Machine
  /** Left out: stays as it is. */
  readonly line?: string | null
  readonly trade?: string | null
}

/** Stores a changed set-up; false where there is no such machine. */
export async function updateMachine(db: Database, id: string, change: MachineChange): Promise<boolean> {
  const changed = await db
    .update(machines)
    .set({ ...change, name: change.config.name, updatedAt: sql`now()` })
    .where(eq(machines.id, id))
    .returning({ id: machines.id })
  return changed.length > 0
}

/** Deletes a machine with its logs and all that hangs on them; false where there is no such machine. */
export async function deleteMachine(db: Database, id: string): Promise<boolean> {
  const gone = await db.delete(machines).where(eq(machines.id, id)).returning({ id: machines.id })
  return gone.length > 0
}
