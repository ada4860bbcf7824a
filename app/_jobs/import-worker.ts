import { parentPort } from 'node:worker_threads'
import { runTask } from './run-task'
import type { Task } from './task'
import { workerError } from './worker-error'
import type { WorkerMessage } from './worker-message'

/** Buffers inside a result, handed over instead of copied. */
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

async function work(task: Task): Promise<void> {
  let sent = -1
  try {
    const result = await runTask(task, (stage, progress) => {
      // Whole per cents only: a message a buffer would flood the thread that serves pages.
      const step = Math.floor(progress * 100)
      if (step !== sent) send({ kind: 'progress', stage, progress })
      sent = step
    })
    send({ kind: 'result', result }, [...buffersIn(result)])
  } catch (error) {
    send(workerError(error))
  }
}

parentPort?.on('message', (task: Task) => void work(task))
