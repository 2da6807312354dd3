// Reads an MP4 with the npm package mp4box and prints what it understood.
// The first line lists every sample of every track, the second sums it up.
// Usage: node read.cjs <folder with node_modules> <file>
const path = require('path');
const fs = require('fs');

const mp4box = require(path.join(path.resolve(process.argv[2]), 'node_modules', 'mp4box', 'dist', 'mp4box.all.cjs'));
const bytes = fs.readFileSync(process.argv[3]);
const file = mp4box.createFile();
const complaints = [];
mp4box.Log.setLogLevel(mp4box.Log.LOG_LEVEL_WARNING ?? 3);
for (const level of ['warn', 'error']) {
  const said = mp4box.Log[level].bind(mp4box.Log);
  mp4box.Log[level] = (...args) => { complaints.push(args.join(' ')); said(...args); };
}
file.onError = (module, message) => complaints.push(`${module}: ${message}`);
file.onReady = (info) => {
  const all = [];
  const out = { version: require(path.join(path.resolve(process.argv[2]), 'node_modules', 'mp4box', 'package.json')).version, fastStart: info.isProgressive, fragmented: info.isFragmented, tracks: [] };
  for (const t of info.tracks) {
    const samples = file.getTrackSamplesInfo(t.id);
    let inside = true;
    let end = 0;
    all.push(samples.map((s) => [s.offset, s.size, s.dts, s.cts, s.is_sync ? 1 : 0, s.description_index]));
    for (const s of samples) {
      inside = inside && s.offset + s.size <= bytes.length;
      end = Math.max(end, s.cts + s.duration);
    }
    out.tracks.push({
      id: t.id, type: t.type, codec: t.codec, samples: samples.length, keys: samples.filter((s) => s.is_sync).length,
      first_is_key: samples[0].is_sync,
      descriptions: file.getTrackById(t.id).mdia.minf.stbl.stsd.entries.length,
      shown_s: t.edits ? t.edits.reduce((n, e) => n + e.segment_duration, 0) / info.timescale : end / t.timescale,
      inside,
    });
  }
  out.complaints = complaints;
  console.log(JSON.stringify(all));
  console.log(JSON.stringify(out));
};
const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
buffer.fileStart = 0;
file.appendBuffer(buffer);
file.flush();
