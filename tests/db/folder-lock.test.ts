import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { hostname, tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { FolderInUseError, lockFolder } from '@/db/folder-lock'

let folder: string
const children: ChildProcess[] = []

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-lock-'))
})
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL')
  rmSync(folder, { recursive: true, force: true })
})

/** Opens the folder's database in another process; gives back that process and the first it said. */
async function openElsewhere(): Promise<{ child: ChildProcess; said: string }> {
  const script = join(import.meta.dirname, 'open-folder.ts')
  const child = spawn(process.execPath, ['--import', 'tsx', script, folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  children.push(child)
  const [said] = await once(child.stdout, 'data')
  return { child, said: String(said) }
}

const ownerFile = () => join(folder, 'owner.json')

describe('the data folder', () => {
  it('has one owner: a second process is refused and told folder and process; a killed owner’s is taken over', {
    timeout: 180_000,
  }, async () => {
    const first = await openElsewhere()
    expect(first.said).toContain('opened')
    const second = await openElsewhere()
    expect(second.said).toContain(folder)
    expect(second.said).toContain(`process ${first.child.pid}`)
    first.child.kill('SIGKILL')
    await once(first.child, 'exit')
    const third = await openElsewhere()
    expect(third.said).toContain('opened')
  })

  it('is refused a second time within one process, and free again when given back', async () => {
    const release = await lockFolder(folder)
    await expect(lockFolder(folder)).rejects.toThrow(FolderInUseError)
    release()
    const again = await lockFolder(folder)
    again()
  })

  it('goes to one of many that ask at once', async () => {
    const asked = await Promise.allSettled(Array.from({ length: 6 }, () => lockFolder(folder)))
    const got = asked.filter((one) => one.status === 'fulfilled')
    expect(got).toHaveLength(1)
    for (const one of got) one.value()
  })

  it('is free where its owner’s process id is now another process', async () => {
    const owner = { pid: process.ppid, host: hostname(), began: '1' }
    writeFileSync(ownerFile(), JSON.stringify(owner))
    const release = await lockFolder(folder)
    expect(JSON.parse(readFileSync(ownerFile(), 'utf8'))).toMatchObject({ pid: process.pid })
    release()
  })

  it('stays with an owner on another computer, whose processes cannot be seen from here', async () => {
    writeFileSync(ownerFile(), JSON.stringify({ pid: 1, host: 'another-computer', began: null }))
    await expect(lockFolder(folder)).rejects.toThrow('another-computer')
  })
})
