// A drawing that is as wide as its box: mixed into a component whose template has ref="box".
export const width = {
  data() {
    return { width: 900 };
  },
  mounted() {
    this.watcher = new ResizeObserver(() => {
      const box = this.$refs.box;
      const padding = box ? parseFloat(getComputedStyle(box).paddingLeft) : 0;
      const width = box ? box.clientWidth - 2 * padding : 0;
      if (width > 0 && Math.abs(width - this.width) > 1) this.width = width;
    });
    this.watcher.observe(this.$refs.box);
  },
  beforeUnmount() {
    this.watcher.disconnect();
  },
};
