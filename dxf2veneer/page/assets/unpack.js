// The block of lines and texts that the command packs, as arrays.

export function unpack(buffer) {
  const length = new DataView(buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  let at = 4 + length;
  const take = (Kind, count) => {
    const array = new Kind(buffer, at, count);
    at += array.byteLength;
    return array;
  };
  const segments = take(Float32Array, head.segments * 4);
  const first = take(Uint32Array, head.entities + 1);
  const boxes = take(Float32Array, head.entities * 4);
  const layer = take(Uint32Array, head.entities);
  return { ...head, segments, first, boxes, layer };
}
