import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { hostname } from 'node:os'
import { join, resolve } from 'node:path'
import lockfile from 'proper-lockfile'

/** Thrown where another process owns the data folder; the message names both. */
export class FolderInUseError extends Error {
  readonly code = 'data-folder-in-use'
  constructor(
    readonly folder: string,
    readonly pid: number,
    host: string,
  ) {
    const where = host === hostname() ? '' : ` on ${host}`
    super(
      `The data folder ${folder} is in use by process ${pid}${where}. ` +
        'Only one process can own it, two would lose rows: stop that one, or set TANKWARD_DATA to another folder, ' +
        'or set DATABASE_URL to share a PostgreSQL server.',
    )
    this.name = 'FolderInUseError'
  }
}

interface Owner {
  readonly pid: number
  readonly host: string
  /** When the process began, where the system tells: a process id is used again after a restart. */
  readonly began: string | null
}

/** Boot-relative start of a process (field 22 of /proc/PID/stat), or null where there is no /proc. */
function beganAt(pid: number): string | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? null
  } catch {
    return null
  }
}

function isAlive(owner: Owner): boolean {
  if (owner.host !== hostname()) return true
  try {
    process.kill(owner.pid, 0)
  } catch (error) {
    // EPERM: it lives and belongs to somebody else.
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false
  }
  const began = beganAt(owner.pid)
  return began === null || owner.began === null || began === owner.began
}

function readOwner(path: string): Owner | null {
  try {
    return JSON.parse(readFileSync(path, 'utf8')) as Owner
  } catch {
    return null
  }
}

/**
 * Makes this process the owner of the folder; gives back the function that ends it. PGlite itself keeps no lock.
 * A dead owner's lock is taken over. The owner is recorded by process, not by a time stamp kept fresh: PGlite
 * blocks the event loop while it works, and a late stamp would hand the folder to a second process.
 * @throws FolderInUseError where a living process owns it
 */
export async function lockFolder(folder: string): Promise<() => void> {
  const path = resolve(folder)
  mkdirSync(path, { recursive: true })
  const ownerFile = join(path, 'owner.json')
  // Held for the moment of reading and writing only, so that two cannot take over a dead owner's lock at once.
  const openGuard = await lockfile.lock(path, {
    lockfilePath: join(path, 'owner.guard'),
    retries: { retries: 40, minTimeout: 50, maxTimeout: 500 },
  })
  try {
    const owner = readOwner(ownerFile)
    if (owner && isAlive(owner)) throw new FolderInUseError(path, owner.pid, owner.host)
    const mine: Owner = { pid: process.pid, host: hostname(), began: beganAt(process.pid) }
    writeFileSync(ownerFile, JSON.stringify(mine))
  } finally {
    await openGuard()
  }
  const release = () => {
    process.off('exit', release)
    rmSync(ownerFile, { force: true })
  }
  process.on('exit', release)
  return release
}
