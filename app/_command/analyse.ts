import { analyseLogs } from './analyse-logs'

// Whoever reads the result may have seen enough of it.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
})

process.exitCode = await analyseLogs(process.argv.slice(2), process)
