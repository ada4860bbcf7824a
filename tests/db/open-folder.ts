import { openDatabase } from '@/db/client'
import { FolderInUseError } from '@/db/folder-lock'

// A process of its own for the tests: opens the folder, says how that went, and holds it until it is stopped.
try {
  await openDatabase({ folder: process.argv[2] })
  console.log('opened')
  setInterval(() => {}, 1000)
} catch (error) {
  console.log(error instanceof FolderInUseError ? error.message : `unexpected: ${error}`)
  process.exit(3)
}
