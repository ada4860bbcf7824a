import { Worker } from 'node:worker_threads'

const WATCHER = `
const { workerData: { turns, mostMs } } = require('node:worker_threads')
let seen = 0
let since = Date.now()
setInterval(() => {
  const now = Atomics.load(turns, 0)
  if (now !== seen) {
    seen = now
    since = Date.now()
  } else if (now % 2 === 1 && Date.now() - since > mostMs) {
    require('node:fs').writeSync(2, 'piece of work ' + (now + 1) / 2 + ' has no end\\n')
    process.kill(process.pid, 'SIGKILL')
  }
}, 200)
`

export interface HangWatch {
  /** Said before and after each piece of work. */
  turn(): void
  stop(): Promise<number>
}

/**
 * Kills this process where a piece of work goes on for so long: a loop without end blocks every timer of its own thread, the
 * test runner's too, and the whole run would wait for it.
 */
export function watchForHangs(mostMs: number): HangWatch {
  const turns = new Int32Array(new SharedArrayBuffer(4))
  const watcher = new Worker(WATCHER, { eval: true, workerData: { turns, mostMs } })
  watcher.unref()
  return { turn: () => void Atomics.add(turns, 0, 1), stop: () => watcher.terminate() }
}
