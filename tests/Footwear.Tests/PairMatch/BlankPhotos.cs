using Pairbench.Imaging;

namespace Pairbench.Footwear.Tests.PairMatch;

/// <summary>Grey pictures: the landmarks are clicked, not found.</summary>
internal sealed class BlankPhotos : IPhotoSource
{
    public IPhotograph Open(string file) => new Grey(file);

    private sealed class Grey(string file) : IPhotograph
    {
        public string File => file;

        public PixelSize Size => BenchScene.Size;

        public CameraFacts Camera => CameraFacts.Unknown;

        public RgbImage Decode(int longestSide = int.MaxValue) => DecodePart(0, 0, new PixelSize(46, 34));

        public RgbImage DecodePart(int left, int top, PixelSize size) => new(size, [.. Enumerable.Repeat((byte)120, (int)size.Count * 3)]);
    }
}
