import { type ChildProcess, spawn } from 'node:child_process'
import { createRequire } from 'node:module'

/** Ends the child when the channel to its parent closes, however the parent ended. */
const TETHER = `data:text/javascript,${encodeURIComponent("process.on('disconnect', () => process.exit(0))")}`

const SILENT_START = { NEXT_TELEMETRY_DISABLED: '1', NODE_ENV: 'production' } as const

/** Starts a command of Next as a process that ends with this one. */
export function startNext(args: readonly string[]): ChildProcess {
  const next = createRequire(import.meta.url).resolve('next/dist/bin/next')
  const child = spawn(process.execPath, ['--import', TETHER, next, ...args], {
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    env: { ...process.env, ...SILENT_START },
  })
  const stop = () => child.kill()
  process.on('exit', stop)
  child.on('exit', () => process.off('exit', stop))
  return child
}

/** Resolves when a child has ended well; rejects with its exit code or signal. */
export function ended(child: ChildProcess, what: string): Promise<void> {
  return new Promise((resolve, reject) => {
    child.on('error', reject)
    child.on('exit', (code, signal) =>
      code === 0 ? resolve() : reject(new Error(`${what} ended with ${signal ?? code}`)),
    )
  })
}
