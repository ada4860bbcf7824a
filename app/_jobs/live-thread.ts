import { Worker } from 'node:worker_threads'
import type { LiveOption } from '@/lib/live-options'
import { type LiveQuestion, liveDesk } from './live-desk'
import { errorOf, type WorkerError } from './worker-error'

export type LiveAnswer = { readonly kind: 'answer'; readonly answer: LiveOption | null } | WorkerError

/** A thread that keeps one log ready; questions are answered in the order they are asked. */
export interface LiveThread {
  ask(question: LiveQuestion): Promise<LiveOption | null>
  /** Gives its memory back; what was asked and not yet answered is rejected. */
  stop(): void
}

interface Waiting {
  resolve(answer: LiveOption | null): void
  reject(error: Error): void
}

function ofWorker(worker: Worker): LiveThread {
  const waiting: Waiting[] = []
  let ended: Error | null = null
  const end = (error: Error) => {
    ended ??= error
    for (const { reject } of waiting.splice(0)) reject(ended)
  }
  // A log kept ready holds nobody up who wants to stop the server.
  worker.unref()
  worker
    .on('message', (message: LiveAnswer) => {
      const first = waiting.shift()
      if (message.kind === 'error') first?.reject(errorOf(message))
      else first?.resolve(message.answer)
    })
    .on('error', (error) => end(error instanceof Error ? error : new Error(String(error))))
    .on('exit', (code) => end(new Error(`worker thread ended with code ${code}`)))
  return {
    ask: (question) =>
      new Promise((resolve, reject) => {
        if (ended) return reject(ended)
        waiting.push({ resolve, reject })
        worker.postMessage(question)
      }),
    stop: () => void worker.terminate(),
  }
}

function ofThisThread(): LiveThread {
  const desk = liveDesk()
  return { ask: async (question) => desk(question), stop: () => {} }
}

/** A thread of its own in the server; in commands and tests, which serve nobody, this one. */
export const startLiveThread = (): LiveThread =>
  process.env.NEXT_RUNTIME === 'nodejs'
    ? ofWorker(new Worker(new URL('./live-worker.ts', import.meta.url)))
    : ofThisThread()
