import { type ResourceLimits, Worker } from 'node:worker_threads'

/**
 * The thread for tasks in a command: tsx reads TypeScript in the first thread only, and is told to in this one too.
 * @param resourceLimits of its memory, where it is to have less than usual
 */
export function commandWorker(resourceLimits?: ResourceLimits): Worker {
  const tsx = JSON.stringify(import.meta.resolve('tsx/esm/api'))
  const file = JSON.stringify(new URL('../_jobs/import-worker.ts', import.meta.url).href)
  const script = `import { register } from ${tsx}; register(); await import(${file})`
  return new Worker(new URL(`data:text/javascript,${encodeURIComponent(script)}`), { resourceLimits })
}
