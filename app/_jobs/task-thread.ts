import { MessageChannel, type Worker as Thread, Worker } from 'node:worker_threads'
import type { RunTask } from './in-worker'
import { noRows } from './row-buffer'
import type { OnAccounted, OnProgress, OnRows, Rows, Task, TaskResult } from './task'
import { errorOf } from './worker-error'
import type { Packed, ToWorker, WorkerMessage } from './worker-message'

/** A thread that does tasks one after the other, with a second one that packs imports. */
export interface TaskThread {
  run: RunTask
  /** Whether it can do more: a thread may die while it waits. */
  isAlive(): boolean
  /** Lets the process end although it waits, until its next task. */
  rest(): void
  stop(): Promise<void>
}

interface Threads {
  readonly worker: Thread
  /** Packs what the worker reads and accounts for; null where it packs by itself. */
  readonly packer: Thread | null
}

/** Begins a task on its threads. */
function begin({ worker, packer }: Threads, task: Task, inStages: boolean): void {
  const tell = (thread: Thread, message: ToWorker, ports: MessageChannel['port1'][]) =>
    thread.postMessage(message, ports)
  if (!packer) {
    tell(worker, { kind: 'task', task, inStages, packing: null }, [])
    return
  }
  const { port1, port2 } = new MessageChannel()
  tell(packer, { kind: 'pack', from: port2 }, [port2])
  tell(worker, { kind: 'task', task, inStages, packing: port1 }, [port1])
}

function runOn<T extends Task>(
  threads: Threads,
  task: T,
  onProgress: OnProgress,
  onRows: OnRows,
  onAccounted: OnAccounted | undefined,
): Promise<TaskResult<T>> {
  const both = threads.packer ? [threads.worker, threads.packer] : [threads.worker]
  return new Promise((resolve, reject) => {
    // What they hand over is taken piece by piece. Once that fails the rest is let go: the threads are heard to their end.
    let taking: Promise<void> = Promise.resolve()
    let fault: { readonly error: unknown } | null = null
    const take = (piece: () => Promise<void> | undefined): Promise<void> => {
      taking = taking.then(async () => {
        try {
          if (!fault) await piece()
        } catch (error) {
          fault = { error }
        }
      })
      return taking
    }
    const takeRows = async (thread: Thread, rows: Rows) => {
      await take(() => onRows(rows))
      thread.postMessage({ kind: 'rows-taken' } satisfies ToWorker)
    }
    // A thread that packs by itself has handed out its rows before it says anything else.
    const onPacked: Partial<Record<Packed, () => void>> = {}
    const packing = (what: Packed) =>
      threads.packer
        ? new Promise<void>((end) => {
            onPacked[what] = end
          })
        : Promise.resolve()
    const packed = { trace: packing('trace'), account: packing('account') }
    // All rows are there before what they belong to is taken.
    let accounted: Promise<void> = packed.trace
    const hear = (thread: Thread) => {
      const onMessage = (message: WorkerMessage) => {
        switch (message.kind) {
          case 'progress':
            return onProgress(message.stage, message.progress)
          case 'rows':
            return void takeRows(thread, message.rows)
          case 'packed':
            return onPacked[message.what]?.()
          case 'accounted':
            accounted = packed.trace.then(() => take(() => onAccounted?.(message.imported)))
            return
          case 'result':
            return void Promise.all([accounted, packed.account]).then(() =>
              settle(() => (fault ? reject(fault.error) : resolve(message.result as TaskResult<T>))),
            )
          case 'error':
            return settle(() => reject(errorOf(message)))
        }
      }
      const onError = (error: unknown) => settle(() => reject(error))
      // A thread that dies of lack of memory may say nothing else.
      const onExit = (code: number) =>
        settle(() => reject(new Error(`worker thread ended with code ${code} before its work was done`)))
      thread.on('message', onMessage).on('error', onError).on('exit', onExit)
      return () => thread.off('message', onMessage).off('error', onError).off('exit', onExit)
    }
    const deaf = both.map(hear)
    const settle = (end: () => void) => {
      for (const off of deaf) off()
      // Nothing may be stored any more once the task has ended, one way or the other.
      void taking.then(end)
    }
    begin(threads, task, onAccounted !== undefined)
  })
}

/** The thread's file as the server's bundler builds it. */
const builtWorker = () => new Worker(new URL('./import-worker.ts', import.meta.url))

/**
 * Starts a thread for tasks.
 * @param packs whether an import is the first: then the one that packs is started with it, else with the first import
 * @param start starts a thread that runs import-worker
 */
export function startThread(packs: boolean, start: () => Worker = builtWorker): TaskThread {
  let isAlive = true
  // A task hears of what befalls its threads; what befalls them while they wait must not end the process.
  const watched = (one: Worker, onExit: () => void) => one.on('error', () => {}).on('exit', onExit)
  const worker = watched(start(), () => {
    isAlive = false
  })
  const startPacker = (): Worker => {
    const one = watched(start(), () => {
      if (packer === one) packer = null
    })
    return one
  }
  let packer: Worker | null = packs ? startPacker() : null
  let last: Promise<unknown> = Promise.resolve()
  const stopPacker = async () => {
    await packer?.terminate()
    packer = null
  }
  return {
    run(task, onProgress = () => {}, onRows = noRows, onAccounted = undefined) {
      const work = async () => {
        worker.ref()
        if (task.kind !== 'import')
          return runOn({ worker, packer: null }, task, onProgress, onRows, onAccounted)
        packer ??= startPacker()
        packer.ref()
        try {
          return await runOn({ worker, packer }, task, onProgress, onRows, onAccounted)
        } catch (error) {
          // It may still wait for the rest of what failed.
          await stopPacker()
          throw error
        }
      }
      const done = last.then(work)
      last = done.catch(() => {})
      return done
    },
    isAlive: () => isAlive,
    rest: () => {
      worker.unref()
      packer?.unref()
    },
    stop: async () => {
      await Promise.all([worker.terminate(), stopPacker()])
    },
  }
}
