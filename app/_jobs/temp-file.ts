import { randomUUID } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A new name for a file that is on its way in, in a folder of this user's own. */
export function tempFile(): string {
  const folder = join(process.env.TANKWARD_UPLOADS ?? tmpdir(), 'tankward-uploads')
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  return join(folder, randomUUID())
}

export async function removeTempFile(path: string): Promise<void> {
  await rm(path, { force: true })
}
