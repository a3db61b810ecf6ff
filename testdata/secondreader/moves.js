// Reads RS-274 text from standard input with a reader of other people's, and
// prints its moves, one a line: the motion word, the end, and an arc's centre, in
// mm.
const Toolpath = require('gcode-toolpath');
const fs = require('fs');

const at = (v) => `${v.x} ${v.y} ${v.z}`;
const lines = [];
new Toolpath({
    addLine: (modal, from, to) => lines.push(`${modal.motion} ${at(to)}`),
    addArcCurve: (modal, from, to, centre) => lines.push(`${modal.motion} ${at(to)} ${centre.x} ${centre.y}`),
}).loadFromString(fs.readFileSync(0, 'utf8'), (err) => {
    if (err) {
        throw err;
    }
    process.stdout.write(lines.join('\n') + '\n');
});
