import { setTimeout as wait } from 'node:timers/promises'
import { openForWork } from '@/app/_server/database'
import { ended, startNext } from './child'
import { seedPlant } from './seed-plant'

/** Loopback only: there is no sign-in yet. */
const HOST = '127.0.0.1'
const PORT = process.env.PORT ?? '3000'
const ADDRESS = `http://${HOST}:${PORT}`
const ASK_EVERY_MS = 250

const GUIDE = `
Tankward runs at ${ADDRESS}
  ${ADDRESS}/            machines compared
  ${ADDRESS}/upload      a logger's file: drop one of sample-logs
  ${ADDRESS}/site        price, calendar, currency, time zone

The plant is invented. There is no sign-in yet: the app listens on this computer only. Stop it with Ctrl+C.

Without the pages:
  curl ${ADDRESS}/api/machines
  curl -H 'Content-Type: application/json' --data-binary @sample-logs/shear-pump-flow.machine.json '${ADDRESS}/api/machines?trade=shear'
  curl -H 'Content-Type: text/csv' --data-binary @sample-logs/shear-pump-flow.csv '${ADDRESS}/api/logs?machine=ID&name=shear.csv'
  curl ${ADDRESS}/api/logs/ID
  curl ${ADDRESS}/api/months/2026-09
  curl ${ADDRESS}/api/openapi.json
`

async function seed(): Promise<void> {
  const opened = await openForWork()
  try {
    const started = Date.now()
    const seconds = () => Math.round((Date.now() - started) / 1000)
    const { imported, failed } = await seedPlant(opened.db, (done, of) => {
      if (process.stdout.isTTY) process.stdout.write(`\rinvented plant: log ${done} of ${of}`)
      else if (done % 10 === 0 || done === of)
        console.log(`invented plant: log ${done} of ${of} (${seconds()} s)`)
    })
    if (process.stdout.isTTY && imported + failed > 0) process.stdout.write('\n')
    console.log(
      `invented plant: ${imported} logs imported in ${seconds()} s; what was there already was left as it is`,
    )
    if (failed > 0) throw new Error(`${failed} logs of the invented plant could not be imported`)
  } finally {
    // One process owns the embedded database: given back before the server takes it.
    await opened.close()
  }
}

/** Waits until the server answers, or ends. */
async function answering(serverEnded: Promise<void>): Promise<void> {
  const ask = async (): Promise<void> => {
    for (;;) {
      const answer = await fetch(`${ADDRESS}/api/site`).catch(() => null)
      if (answer?.ok) return
      await wait(ASK_EVERY_MS)
    }
  }
  const gone = serverEnded.then(() => Promise.reject(new Error('the server ended before it answered')))
  await Promise.race([ask(), gone])
}

async function run(): Promise<void> {
  console.log('building the app and filling the embedded database with the invented plant …')
  await Promise.all([ended(startNext(['build']), 'next build'), seed()])
  const server = startNext(['start', '--hostname', HOST, '--port', PORT])
  const serverEnded = ended(server, 'next start')
  await answering(serverEnded)
  console.log(GUIDE)
  await serverEnded
}

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => process.exit(0))

run().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error)
  process.exit(1)
})
