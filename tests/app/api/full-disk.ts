import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A disk of so many megabytes, where this user may mount one; null where not. */
export function smallDisk(megabytes: number): { readonly folder: string; remove(): void } | null {
  const folder = mkdtempSync(join(tmpdir(), 'tankward-small-disk-'))
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'pipe' })
  } catch {
    rmSync(folder, { recursive: true })
    return null
  }
  return {
    folder,
    remove: () => {
      execFileSync('umount', [folder])
      rmSync(folder, { recursive: true })
    },
  }
}
