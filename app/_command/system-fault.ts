const WHY: Readonly<Record<string, string>> = {
  EISDIR: 'is a folder, where a file was expected. Name the file in it',
  ENOENT: 'is not there. Check the path and the spelling',
  ENOTDIR: 'is not there. Check the path and the spelling',
  EACCES: 'may not be opened. Check its rights',
  EPERM: 'may not be opened. Check its rights',
  EROFS: 'cannot be written: the disk takes no changes. Name another place',
  ENOSPC: 'cannot be written: the disk is full. Make room or name another place',
  EIO: 'cannot be read: the disk failed. Copy the file from its source again',
}

/** What the system said of a file, in words; null for an error that is none of the system's. */
export function systemFault(error: unknown): string | null {
  if (!(error instanceof Error) || !('syscall' in error) || !('code' in error)) return null
  const path = 'path' in error ? String(error.path) : 'The file'
  return `${path} ${WHY[String(error.code)] ?? `cannot be used (${error.code}). Check the file and its disk`}.`
}
