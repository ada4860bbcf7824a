import { parentPort } from 'node:worker_threads'
import { type LiveQuestion, liveDesk } from './live-desk'
import type { LiveAnswer } from './live-thread'
import { workerError } from './worker-error'

const desk = liveDesk()

function answer(question: LiveQuestion): LiveAnswer {
  try {
    return { kind: 'answer', answer: desk(question) }
  } catch (error) {
    return workerError(error)
  }
}

parentPort?.on('message', (question: LiveQuestion) => parentPort?.postMessage(answer(question)))
