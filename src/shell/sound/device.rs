//! A sound through the system's own output: macOS and Windows.

use crate::domain::cue::Clip;
use rodio::buffer::SamplesBuffer;
use rodio::{DeviceSinkBuilder, MixerDeviceSink};
use std::num::NonZero;

/// A sound on its way to the ear. Dropping it ends it.
pub struct Stream {
    sink: MixerDeviceSink,
}

impl Stream {
    /// Makes the way for a sound.
    ///
    /// # Errors
    ///
    /// There is no output, or it refuses; words say which.
    pub fn open(_clip: &Clip) -> Result<Self, String> {
        // Whatever goes wrong later has nowhere to be told: the screen is drawn on.
        let builder = DeviceSinkBuilder::from_default_device().map_err(|why| why.to_string())?;
        let opened = builder.with_error_callback(|_| {}).open_stream();
        let mut sink = opened.map_err(|why| why.to_string())?;
        sink.log_on_drop(false);
        Ok(Self { sink })
    }

    /// Begins the sound.
    ///
    /// # Errors
    ///
    /// It is none.
    pub fn begin(&mut self, clip: &Clip) -> Result<(), String> {
        let channels = NonZero::new(u16::from(clip.channels)).ok_or("a sound without channels")?;
        let rate = NonZero::new(clip.rate).ok_or("a sound without a rate")?;
        let scale = f32::from(i16::MAX);
        let scaled = clip.samples.iter().map(|sample| f32::from(*sample) / scale);
        let samples: Vec<f32> = scaled.collect();
        self.sink
            .mixer()
            .add(SamplesBuffer::new(channels, rate, samples));
        Ok(())
    }
}
