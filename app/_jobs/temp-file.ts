import { randomUUID } from 'node:crypto'
import { mkdirSync } from 'node:fs'
import { readdir, rm, stat } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** No import takes this long: what is older was left by a process that died. */
const LEFT_BEHIND_MS = 86_400_000

/** A folder of this project's own, read by its user alone. */
function folder(): string {
  const path = join(process.env.TANKWARD_UPLOADS ?? tmpdir(), 'tankward-uploads')
  mkdirSync(path, { recursive: true, mode: 0o700 })
  return path
}

/** A new name for a file that is on its way in. */
export function tempFile(): string {
  return join(folder(), randomUUID())
}

export async function removeTempFile(path: string): Promise<void> {
  await rm(path, { force: true })
}

/** Removes files that processes left behind when they died. */
export async function removeOldTempFiles(now: Date): Promise<void> {
  for (const name of await readdir(folder())) {
    const path = join(folder(), name)
    // Another process may remove its own meanwhile.
    const found = await stat(path).catch(() => null)
    if (found && now.getTime() - found.mtimeMs > LEFT_BEHIND_MS) await removeTempFile(path)
  }
}
