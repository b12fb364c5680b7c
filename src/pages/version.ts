/** The version that answers, pages and sheets show. */
export { version } from '../../package.json'
