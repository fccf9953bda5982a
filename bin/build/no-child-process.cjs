// Stands in for node:child_process (an alias in the build): commander loads it, and all of Node's
// networking with it, for commands that are programs of their own. This tool has none.
module.exports = {};
