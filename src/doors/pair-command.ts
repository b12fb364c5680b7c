import { pairCommand } from './commands'
import { tell } from './tell'

tell(() => pairCommand(process.env))
