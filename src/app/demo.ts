/** The demo building's project file as text. */
import text from '../../fixtures/demo.json?raw'

export default text
