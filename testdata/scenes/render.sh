#!/bin/sh
# Renders the demo shop's photos and dresses them as a phone leaves them: noise, JPEG,
# EXIF with orientation, local time, position and a thumbnail. Phone and position (open
# ocean) are invented.
#
#   ./render.sh                 all photos
#   ./render.sh pinion rod      only these
#   TRACE=2400 ./render.sh      trace at another width (default 1600; photos are 2400 wide)
#
# Needs povray, ImageMagick's convert and exiftool.
set -eu
cd "$(dirname "$0")"
machines=../../content-example/machines
width=${TRACE:-1600}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 130' INT TERM
wanted=" $* "
tab=$(printf '\t')

# The pixels of a photo lie as the sensor lay; the orientation says how to turn them upright.
lay() {
  case $1 in
    3) echo 180 ;;
    6) echo -90 ;;
    8) echo 90 ;;
    *) echo 0 ;;
  esac
}

# trace SCENE W H OUT OPTIONS...
trace() {
  scene=$1 w=$2 h=$3 out=$4
  shift 4
  nice -n 15 povray "$scene.pov" +W"$w" +H"$h" +WT1 -D +O"$out" "$@" >"$work/trace.log" 2>&1 ||
    { tail -n 15 "$work/trace.log" >&2; return 1; }
}

# soften SCENE AMOUNT: blur what lies before and behind the sharp plane. In the depth
# picture, u = 1 - exp(-t) with t the distance over that of the sharp plane.
soften() {
  convert "$work/$1-depth.png" -set colorspace Gray -resize 25% \
    -fx "max(0,min(1,$2*abs(1+1/min(-0.02,ln(max(0.0001,1-u)))))-0.03)" -blur 0x1 "$work/$1-haze.png"
  geometry=$(identify -format '%wx%h!' "$work/$1.png")
  convert "$work/$1.png" \
    \( -clone 0 -blur 0x$((width / 600)) \) \( "$work/$1-haze.png" -resize "$geometry" -evaluate Multiply 3 \) -composite \
    \( -clone 0 -blur 0x$((width / 220)) \) \( "$work/$1-haze.png" -resize "$geometry" -evaluate Multiply 2 -evaluate Subtract 33% \) -composite \
    "$work/$1-soft.png"
}

# shoot SCENE PHOTO ORIENTATION TAKEN OFFSET LATITUDE LONGITUDE ALTITUDE BLUR
shoot() {
  case $3 in
    6|8) w=$((width * 3 / 4)); h=$width; size=1800x2400 ;;
    *) w=$width; h=$((width * 3 / 4)); size=2400x1800 ;;
  esac
  trace "$1" $w $h "$work/$1.png" +A0.2 +AM2 +R2 File_Gamma=sRGB
  trace "$1" $w $h "$work/$1-depth.png" -A File_Gamma=1.0 +FN16 Declare=Depth=1
  soften "$1" "$9"
  mkdir -p "$(dirname "$machines/$2")"
  # A small sensor in poor light: lifted shadows, soft grain, a little darker in the corners.
  convert "$work/$1-soft.png" -filter Lanczos -resize $size! \
    -gamma 1.16 -sigmoidal-contrast 2.5,45% \
    \( -size $size radial-gradient:white-gray60 -evaluate Pow 0.6 \) -compose Multiply -composite \
    \( -size $size xc:gray50 -seed 7 -attenuate 0.30 +noise Gaussian -blur 0x0.7 \) -compose Overlay -composite \
    -unsharp 0x1.2+0.5+0.01 -rotate "$(lay "$3")" +repage -strip \
    -sampling-factor 2x2 -define jpeg:extent=680kb "$work/$1.jpg"
  convert "$work/$1.jpg" -strip -thumbnail 320x320 -quality 70 "$work/thumb.jpg"
  ns=N; case $6 in -*) ns=S ;; esac
  ew=E; case $7 in -*) ew=W ;; esac
  exiftool -q -q -overwrite_original -n \
    -Make="Osprette" -Model="Osprette Slate 4" -Software="slate-4.2.11" \
    -Orientation="$3" -XResolution=72 -YResolution=72 -ResolutionUnit=2 \
    -ModifyDate="$4" -DateTimeOriginal="$4" -CreateDate="$4" \
    -OffsetTime="$5" -OffsetTimeOriginal="$5" -OffsetTimeDigitized="$5" \
    -SubSecTimeOriginal=317 -ExposureTime=0.0333 -FNumber=1.8 -ISO=640 \
    -FocalLength=4.3 -FocalLengthIn35mmFormat=26 -EXIF:Flash=16 -WhiteBalance=0 -ColorSpace=1 \
    -ExifImageWidth="$(identify -format %w "$work/$1.jpg")" \
    -ExifImageHeight="$(identify -format %h "$work/$1.jpg")" \
    -GPSLatitude="${6#-}" -GPSLatitudeRef=$ns -GPSLongitude="${7#-}" -GPSLongitudeRef=$ew \
    -GPSAltitude="$8" -GPSAltitudeRef=0 \
    "-ThumbnailImage<=$work/thumb.jpg" "$work/$1.jpg"
  mv "$work/$1.jpg" "$machines/$2"
  rm -f "$work/$1".* "$work/$1"-*
  identify -format '%f %wx%h %b\n' "$machines/$2"
}

while IFS=$tab read -r scene photo turn taken offset lat lon alt blur; do
  case $scene in ''|\#*) continue ;; esac
  if [ $# -gt 0 ]; then
    case $wanted in *" $scene "*) ;; *) continue ;; esac
  fi
  shoot "$scene" "$photo" "$turn" "$taken" "$offset" "$lat" "$lon" "$alt" "$blur"
done <photos.tsv
