import * as fake from 'fake-indexeddb'

/**
 * Lays an empty stand-in for IndexedDB into the global scope, as a browser has it; to be asked for where a test file
 * begins. What a file lays there is taken out of it again after the file, so that importing it once is not enough.
 */
export function browserStore(): void {
  const { default: _, forceCloseDatabase: __, ...classes } = fake
  Object.assign(globalThis, classes, { indexedDB: new fake.IDBFactory() })
}
