import { devicesCommand } from './commands'
import { tell } from './tell'

tell(() => devicesCommand(process.env, process.argv.slice(2)))
