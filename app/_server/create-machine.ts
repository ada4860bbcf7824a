import type { Database } from '@/db/client'
import { insertMachine, type NewMachine } from '@/db/queries/machines'
import { slug } from './new-id'

/** Stores a machine under an id made from its name, with a number behind it where that is taken. */
export async function createMachine(db: Database, machine: Omit<NewMachine, 'id'>): Promise<string> {
  const base = slug(machine.config.name)
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`
    if (await insertMachine(db, { ...machine, id })) return id
  }
}
