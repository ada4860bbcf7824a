import { getPriority, setPriority } from 'node:os'
import { type MessagePort, parentPort } from 'node:worker_threads'
import { packerTo } from './pack-log'
import { packerAt, packFrom } from './packing-port'
import { runTask } from './run-task'
import type { OnAccounted, OnProgress, OnRows, Task } from './task'
import { workerError } from './worker-error'
import type { ToWorker, WorkerMessage } from './worker-message'

/**
 * How far a thread that works through a file yields to the one that serves pages: a third of its weight where both want one
 * processor. Twice as much serves pages no sooner and starves imports where the machine is busy with other things.
 */
const YIELDS = 5
const MOST_NICE = 19
// Linux takes it for this thread alone, others for the whole process.
if (process.platform === 'linux') {
  try {
    setPriority(Math.min(MOST_NICE, getPriority() + YIELDS))
  } catch {
    // Where a sandbox forbids it a file is worked through all the same.
  }
}

/** Buffers inside rows, handed over instead of copied. */
function buffersIn(value: unknown, found = new Set<ArrayBuffer>()): Set<ArrayBuffer> {
  if (ArrayBuffer.isView(value)) {
    if (value.buffer instanceof ArrayBuffer) found.add(value.buffer)
  } else if (Array.isArray(value)) for (const one of value) buffersIn(one, found)
  else if (typeof value === 'object' && value !== null)
    for (const one of Object.values(value)) buffersIn(one, found)
  return found
}

function send(message: WorkerMessage, transfer: ArrayBuffer[] = []): void {
  parentPort?.postMessage(message, transfer)
}

/** Rows that may wait to be stored: beyond that there is no sense in making more. */
const MOST_SENT = 8
/** Rows sent and not yet stored, and what waits for one of them. */
let sentRows = 0
let onTaken: (() => void) | null = null

const sendRows: OnRows = async (rows) => {
  send({ kind: 'rows', rows }, [...buffersIn(rows)])
  sentRows++
  if (sentRows < MOST_SENT) return
  await new Promise<void>((resolve) => {
    onTaken = resolve
  })
}

function rowsTaken(): void {
  sentRows--
  onTaken?.()
  onTaken = null
}

/** Whoever stores it does so while the options are replayed. */
const sendAccounted: OnAccounted = async (imported) => send({ kind: 'accounted', imported })

async function work(task: Task, inStages: boolean, packing: MessagePort | null): Promise<void> {
  let sent = -1
  try {
    const onProgress: OnProgress = (stage, progress) => {
      // Whole per cents only: a message a buffer would flood the thread that serves pages.
      const step = Math.floor(progress * 100)
      if (step !== sent) send({ kind: 'progress', stage, progress })
      sent = step
    }
    const packer = packing ? packerAt(packing) : packerTo(sendRows)
    const result = await runTask(task, onProgress, sendRows, inStages ? sendAccounted : undefined, packer)
    send({ kind: 'result', result })
  } catch (error) {
    send(workerError(error))
  }
}

async function pack(from: MessagePort): Promise<void> {
  try {
    await packFrom(from, sendRows, (what) => send({ kind: 'packed', what }))
  } catch (error) {
    send(workerError(error))
  }
}

parentPort?.on('message', (message: ToWorker) => {
  if (message.kind === 'task') void work(message.task, message.inStages, message.packing)
  else if (message.kind === 'pack') void pack(message.from)
  else rowsTaken()
})
