// Stands in for the measuring that cli-table3 brings along (an alias in the build): every cell is
// measured several times, and plain text is as wide as it is long.
const width = require('fast-string-width').default;

module.exports = (text) => (/^[ -~]*$/.test(text) ? text.length : width(text));
